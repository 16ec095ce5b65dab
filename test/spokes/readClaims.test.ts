import { describe, expect, it } from 'vitest';
import { readClaims } from '../../src/spokes/readClaims.ts';

describe('claims as they stand on a sheet', () => {
  it('keep their decimals and their percent sign, several divided by semicolons', () => {
    expect(readClaims('± 2,50 %; 4 kgf', 'left', 'spread')).toEqual({
      claims: [
        { of: 'left', what: 'spread', value: 2.5, decimals: 2, percent: true },
        { of: 'left', what: 'spread', value: 4, decimals: 0, percent: false, unit: 'kgf' },
      ],
      wrong: [],
    });
  });
  it('that are no figure, or a mean in percent, are named as written', () => {
    expect(readClaims('good; 3 %', 'right', 'mean')).toEqual({ claims: [], wrong: ['good', '3 %'] });
  });
  it('left empty claim nothing', () => {
    expect(readClaims(' ', 'wheel', 'mean')).toEqual({ claims: [], wrong: [] });
  });
});
