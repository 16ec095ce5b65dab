import { h } from 'preact';
import { describe, expect, it } from 'vitest';
import { keepUnits, keepUnitsOf } from '../../../src/ui/parts/keepUnits.ts';

const NO_BREAK = '\u00a0';
const shown = (text: string) => text.replaceAll(NO_BREAK, '~');

/** @source ISO 80000-1:2009, 7.1.4: a space between number and unit; that it must not break is typographic practice, `common practice`. */
describe('a number and its unit stay on one line', () => {
  it.each([
    ['1050 ± 30 N', '1050 ± 30~N'],
    ['1 mm here is 0.9 % of tension', '1~mm here is 0.9~% of tension'],
    ['120 kgf, 265 lbf, 480.2 Hz, 20 °C, 0.08 s', '120~kgf, 265~lbf, 480.2~Hz, 20~°C, 0.08~s'],
    ['k = 1.2 N·m/rad, 7850 kg/m³, 210 GPa', 'k = 1.2~N·m/rad, 7850~kg/m³, 210~GPa'],
  ])('%s', (text, kept) => {
    expect(shown(keepUnits(text))).toBe(kept);
  });

  it('nor does 3-cross break at its hyphen', () => {
    expect(keepUnits('32 spokes, 3-cross')).toBe('32 spokes, 3\u2011cross');
    expect(keepUnits('straight-pull')).toBe('straight-pull');
  });

  it('words that only begin like a unit are left alone', () => {
    for (const text of ['2 spokes', '3 more', '12 marks', '5 Nights', '7 gauges', '4 bars', 'round 2 may'])
      expect(keepUnits(text)).toBe(text);
  });

  it('whatever pieces the sentence comes in', () => {
    expect(keepUnitsOf([1050, ' N'])).toEqual([1050, `${NO_BREAK}N`]);
    expect(keepUnitsOf(['1050', ' ', 'kgf'])).toEqual(['1050', NO_BREAK, 'kgf']);
    expect(keepUnitsOf(['within ± ', 30, ' N, tyre off'])).toEqual(['within ± ', 30, `${NO_BREAK}N, tyre off`]);
    const bold = h('b', null, '30');
    expect(keepUnitsOf([bold, ' mm free'])).toEqual([bold, `${NO_BREAK}mm free`]);
    expect(keepUnitsOf(['a spoke', ' N'])).toEqual(['a spoke', ' N']);
  });
});
