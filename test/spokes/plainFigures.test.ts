import { describe, expect, it } from 'vitest';
import { gaugeReadings } from '../../src/spokes/gaugeReadings.ts';
import { parseFigure } from '../../src/spokes/parseFigure.ts';
import { plainFigures } from '../../src/spokes/plainFigures.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';

describe('figures of other scripts', () => {
  // Unicode Character Database, UnicodeData.txt, field 6: nought of each block; nine more follow it.
  it.each([0x660, 0x6f0, 0x966, 0x9e6, 0xe50, 0xff10])('from U+%s on are digits', (nought) => {
    const digits = Array.from({ length: 10 }, (_, i) => String.fromCharCode(nought + i)).join('');
    expect(plainFigures(digits)).toBe('0123456789');
  });

  it.each([
    ['\u22125', -5, 'a minus sign'],
    ['\uff0d5', -5, 'a full-width one'],
    ['1\u00a0050', 1050, 'a no-break space'],
    ['1\u202f050', 1050, 'a narrow one'],
    ['1\u2009050', 1050, 'a thin one'],
    ['\uff11\uff10\uff15\uff10\uff0e\uff15', 1050.5, 'full width'],
    ['\u0661\u066c\u0660\u0665\u0660\u066b\u0665', 1050.5, 'Arabic signs for thousands and decimals'],
    ['\u200b1050\u200e', 1050, 'signs of no width'],
  ])('%j is %d: %s', (text, value) => expect(parseFigure(text, '.')).toBe(value));

  it.each(['Ⅻ', '½', '10²', '一〇五〇', '1 05O'])('“%s” is no figure rather than a guess', (text) =>
    expect(parseFigure(text, '.')).toBeUndefined(),
  );

  it('hold together over a blank that does not break, and are two over one that does', () => {
    const values = (text: string) => gaugeReadings(text, 4).readings.map((one) => [one.spoke, ...one.values]);
    expect(values('1 1\u00a0050\n2 1\u2009010')).toEqual([
      [1, 1050],
      [2, 1010],
    ]);
    expect(values('1 1050 1060\n2 1010 1020')).toEqual([
      [1, 1050, 1060],
      [2, 1010, 1020],
    ]);
  });

  it('are read on a sheet and among gauge readings as those of ASCII are', () => {
    const plain = gaugeReadings('1;105.5\n2;98.5', 2);
    expect(gaugeReadings(wide('1;105.5\n2;98.5'), 2)).toEqual(plain);
    const arabic = '\u0661\u061b\u0661\u0660\u0665\u066b\u0665\n\u0662\u061b\u0669\u0668\u066b\u0665';
    expect(gaugeReadings(arabic, 2)).toEqual(plain);
    const sheet = 'left kgf;right kgf\n61;112\n62,5;109';
    expect(readSheet(wide(sheet))).toEqual(readSheet(sheet));
  });
});

/** A text in full-width forms. */
const wide = (text: string): string =>
  text.replace(/[!-~]/g, (sign) => String.fromCharCode(sign.charCodeAt(0) + 0xfee0));
