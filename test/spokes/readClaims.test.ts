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
  it('of a mean that may be a thousand or little more than one are not guessed at; a spread is none of a thousand', () => {
    for (const written of ['1,020 N', '1.020 N'])
      expect(readClaims(written, 'right', 'mean')).toEqual({ claims: [], wrong: [written] });
    expect(readClaims('1,020.5 N', 'right', 'mean').claims).toMatchObject([{ value: 1020.5, decimals: 1 }]);
    expect(readClaims('1.020,5 N', 'right', 'mean').claims).toMatchObject([{ value: 1020.5, decimals: 1 }]);
    expect(readClaims('103,313', 'right', 'mean').claims).toMatchObject([{ value: 103.313, decimals: 3 }]);
    expect(readClaims('2,345', 'right', 'spread').claims).toMatchObject([{ value: 2.345, decimals: 3 }]);
  });
  it('in full width are read as such', () => {
    expect(readClaims('\uff12\uff0e\uff15\uff05', 'left', 'spread').claims).toMatchObject([
      { value: 2.5, percent: true },
    ]);
  });
  it('left empty claim nothing', () => {
    expect(readClaims(' ', 'wheel', 'mean')).toEqual({ claims: [], wrong: [] });
  });
});
