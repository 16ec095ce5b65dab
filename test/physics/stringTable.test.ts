import { describe, expect, test } from 'vitest';
import { tensionOf } from '../../src/physics/tensionOf.ts';
import {
  hertz,
  KILOGRAMS_PER_POUND,
  kilogramsPerMetre,
  lengthFrom,
  METRES_PER_INCH,
  newtonMetresPerRadian,
  newtonMetresSquared,
  newtons,
  tensionIn,
} from '../../src/units.ts';

/**
 * @source a string maker's published tension guide: mass per length in lb/in, scale 25.5 in, tension T = UW (2 L F)² / 386.4 in lb.
 * The two with three figures from the guide were read; the rest are from memory.
 */
const TABLE = [
  ['0.010 plain', 2.215e-5, 329.63, 16.2],
  ['0.046 wound', 3.8216e-4, 82.41, 17.5],
  ['0.013 plain', 3.744e-5, 246.94, 15.4],
  ['0.017 plain', 6.402e-5, 196.0, 16.6],
  ['0.009 plain', 1.794e-5, 329.63, 13.1],
] as const;

/** The guide gives one decimal. */
const LBF_ROUNDING = 0.05;
const pinned = { inPlane: newtonMetresPerRadian(0), across: newtonMetresPerRadian(0) };
/** A musical string bends a thousand times more easily than a spoke; the guide neglects it. */
const limp = newtonMetresSquared(1e-7);

describe('the tension of musical strings from mass, length and pitch', () => {
  test.each(TABLE)(
    '%s is what its maker publishes, to the last printed digit',
    (_, poundsPerInch, pitch, published) => {
      const massPerLength = kilogramsPerMetre((poundsPerInch * KILOGRAMS_PER_POUND) / METRES_PER_INCH);
      const section = {
        length: lengthFrom(25.5, 'in'),
        massPerLength,
        bendingInPlane: limp,
        bendingAcross: limp,
        axial: newtons(1e4),
      };
      const member = { sections: [section] };
      const result = tensionOf(member, hertz(pitch), 1, { hub: pinned, rim: pinned }, 'inPlane', { kind: 'none' });
      if (!result.ok) throw new Error(result.reason);
      expect(Math.abs(tensionIn(result.tension, 'lbf') - published)).toBeLessThanOrEqual(LBF_ROUNDING);
    },
  );
});
