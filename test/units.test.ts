import { describe, expect, test } from 'vitest';
import {
  centsBetween,
  hertz,
  inMillimetres,
  KILOGRAMS_PER_POUND,
  lengthFrom,
  METRES_PER_INCH,
  NEWTONS_PER_LBF,
  newtons,
  STANDARD_GRAVITY,
  tensionFrom,
  tensionIn,
} from '../src/units.ts';

// @source NIST SP 811 (2008), Appendix B.8: 1 lbf = 4.4482216152605 N, 1 kgf = 9.80665 N, 1 in = 25.4 mm, all exact.
describe('units', () => {
  test('a pound-force is a pound times standard gravity, to the last digit', () => {
    expect(NEWTONS_PER_LBF).toBeCloseTo(KILOGRAMS_PER_POUND * STANDARD_GRAVITY, 13);
  });

  test('the three tension units convert by their exact factors', () => {
    expect(tensionFrom(1, 'kgf')).toBe(9.80665);
    expect(tensionFrom(1, 'lbf')).toBe(4.4482216152605);
    expect(tensionIn(newtons(1000), 'kgf')).toBeCloseTo(101.97162129779, 10);
  });

  test('what is converted there and back is what was typed', () => {
    for (const unit of ['N', 'kgf', 'lbf'] as const)
      expect(tensionIn(tensionFrom(117.5, unit), unit)).toBeCloseTo(117.5, 12);
  });

  test('an inch is 25.4 mm', () => {
    expect(inMillimetres(lengthFrom(1, 'in'))).toBeCloseTo(25.4, 12);
    expect(METRES_PER_INCH).toBe(0.0254);
  });

  // @source maker's string table: mass 2.215e-5 lb/in is 3.955540e-4 kg/m; 386.088583 in/s² = g/0.0254.
  test('pounds per inch become kilograms per metre', () => {
    expect((2.215e-5 * KILOGRAMS_PER_POUND) / METRES_PER_INCH).toBeCloseTo(3.95554e-4, 9);
  });

  // @source definition of the cent: A. J. Ellis 1885, 1200 to the octave.
  test('an octave is 1200 cents', () => {
    expect(centsBetween(hertz(880), hertz(440))).toBeCloseTo(1200, 10);
  });
});
