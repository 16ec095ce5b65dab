import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeText } from '../../src/spokes/decodeText.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';
import { sideIn } from '../../src/spokes/sideIn.ts';

const read = (lines: readonly string[], only?: 'tensions' | 'tones') => readSheet(lines.join('\n'), only);
const problems = (lines: readonly string[], only?: 'tensions' | 'tones') =>
  read(lines, only).problems.map(({ line, reason, detail }) => [line, reason, detail]);

describe('a side as sheets name it', () => {
  it.each([
    [
      'left',
      [
        'L',
        'l.',
        'L3',
        '12 L',
        'left',
        'Left side',
        'NDS',
        'non-drive side',
        'Non drive',
        'links',
        'gauche',
        'disc side',
        'L (kgf)',
      ],
    ],
    [
      'right',
      ['R', 'r12', '3R', 'right', 'DS', 'drive side', 'Drive-side, kgf', 'cassette side', 'rechts', 'droite', 'R [N]'],
    ],
  ] as const)('%s', (side, words) => {
    for (const word of words) expect(sideIn(word)?.side, word).toBe(side);
  });
  it('is none where nothing names it, or both are', () => {
    for (const word of ['spoke', 'N', 'tension', 'kgf', 'left and right', '12', 'drivers', 'Llama'])
      expect(sideIn(word), word).toBeUndefined();
  });
});

describe('a sheet’s table', () => {
  it.each([
    ['columns with the unit in the head', ['left (kgf);right (kgf)', '57,5;110', '56;112,25']],
    ['tabs and a decimal comma', ['NDS\tDS\tkgf', '57,5\t110', '56\t112,25'].map((line) => line.replace(/\tkgf/, ''))],
    ['CSV with quoted decimal commas', ['left,right', '"57,5","110"', '"56","112,25"']],
    ['a place column and other words', ['spoke;non-drive side kgf;drive side kgf', '1;57,5;110', '2;56;112,25']],
    ['a title above the head', ['Rear wheel, as built', 'left;right', '57.5;110', '56;112.25']],
    ['rows that name their side behind the place', ['1 L 57.5', '2 R 110', '3 L 56', '4 R 112.25']],
    ['rows that begin with the side', ['L;1;57.5', 'R;1;110', 'L;2;56', 'R;2;112.25']],
    ['place and side in one cell', ['L1;57.5', 'R1;110', 'L2;56', 'R2;112.25']],
    [
      'a head with a side column',
      ['spoke;side;tension kgf', '1;left;57.5', '2;right;110', '3;left;56', '4;right;112.25'],
    ],
    ['blocks under the side’s name', ['Left side (kgf)', '57.5', '56', 'Right side (kgf)', '110', '112.25']],
    ['figures with their unit', ['left;right', '57.5 kgf;110 kgf', '56 kgf;112.25 kgf']],
  ])('is read from %s', (_, lines) => {
    expect(read(lines)).toMatchObject({ ok: true, left: [57.5, 56], right: [110, 112.25], decimals: 2 });
  });

  it('has several tones a spoke, in columns of their own or in one cell', () => {
    const wanted = { left: [[380, 790.5], [381]], right: [[593], [594, 1210, 1850]] };
    const columns = read([
      'side;kgf;tone 1 Hz;tone 2 Hz;tone 3 Hz',
      'L;57;380;790.5;',
      'R;110;593;–;',
      'L;56;381;;',
      'R;112;594;1210;1850',
    ]);
    expect(columns).toMatchObject({ ok: true, left: [57, 56], right: [110, 112], tonesHz: wanted, unit: 'kgf' });
    expect(
      read(['left kgf;left Hz;right kgf;right Hz', '57;380 790.5;110;593', '56;381;112;594 / 1210 / 1850']),
    ).toMatchObject({ ok: true, left: [57, 56], tonesHz: wanted });
    expect(read(['left;right', '380 790.5;593', '381;594 1210 1850'], 'tones')).toMatchObject({
      ok: true,
      tonesHz: wanted,
    });
    expect(read(['L 380 790.5', 'R 593', 'L 381', 'R 594 1210 1850'], 'tones')).toMatchObject({
      ok: true,
      tonesHz: wanted,
    });
    // The decimals of the tones are not those of the tensions.
    expect(columns.decimals).toBe(0);
  });

  it('keeps the place of a spoke without a tone', () => {
    expect(read(['left;right', '380;–', '–;593'], 'tones').tonesHz).toEqual({ left: [[380], []], right: [[], [593]] });
  });

  it('names what it did not read', () => {
    expect(read(['left;right;nipple turns', '57;110;2', '56;112;1']).unread).toEqual(['nipple turns']);
  });

  it.each([
    ['a row of means', ['left;right', '57;110', 'mean 57;110'], [[3, 'summaryRow', 'mean 57 110']]],
    ['two units', ['left (kgf);right (N)', '57;1078'], [[1, 'unitsMixed', 'kgf, N']]],
    ['a unit that is not read', ['left (daN);right (daN)', '57;110'], [[1, 'unitNotRead', 'daN']]],
    [
      'several figures without a head',
      ['L 57 380', 'R 110 593'],
      [
        [1, 'severalFigures', '57 380'],
        [2, 'severalFigures', '110 593'],
      ],
    ],
    ['a word for a figure', ['left;right', '57;abc'], [[2, 'notAFigure', 'abc']]],
    ['a tension of nought', ['left;right', '57;0'], [[2, 'notPositive', '0']]],
    ['more cells than the head', ['left;right', '57;110;3'], [[2, 'raggedRow', '3 > 2']]],
    ['tones without a tension', ['side;kgf;Hz', 'L;;380'], [[2, 'noTension', '380']]],
    [
      'no sides',
      ['57', '110'],
      [
        [1, 'noSides', '57'],
        [2, 'noSides', '110'],
      ],
    ],
    [
      'a sign that may be a decimal comma or a thousand',
      ['left;right', '1,050;1,060'],
      [[2, 'unclearDecimals', '1,050']],
    ],
    ['a quotation mark without end', ['left,right', '"57,110'], [[2, 'brokenQuote', '"57,110']]],
  ])('with %s is refused with the line', (_, lines, wanted) => {
    expect(problems(lines)).toEqual(wanted);
    expect(read(lines).ok).toBe(false);
  });

  it('of five million characters is refused as a whole', () => {
    expect(problems(['57;110\n'.repeat(720_000)])).toEqual([[0, 'tooLong', '5040000 > 1000000']]);
  });

  it('gives back every figure, whichever separator, decimal sign and naming it is written with', () => {
    const tension = fc.integer({ min: 300, max: 1500 }).map((tenths) => tenths / 10);
    const tone = fc.integer({ min: 2000, max: 20000 }).map((tenths) => tenths / 10);
    const row = fc.record({ side: fc.constantFrom('left', 'right'), tension, tones: fc.array(tone, { maxLength: 3 }) });
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 1, maxLength: 40 }),
        fc.constantFrom([';', ','], [';', '.'], ['\t', ','], ['\t', '.'], [',', '.']),
        fc.constantFrom(['L', 'R'], ['NDS', 'DS'], ['left', 'right'], ['Non-drive', 'Drive']),
        fc.boolean(),
        (rows, [separator = '', decimal = ''], [left = '', right = ''], numbered) => {
          const shown = (value: number) => value.toFixed(1).replace('.', decimal);
          const lines = rows.map(({ side, tension: t, tones }, i) =>
            [
              ...(numbered ? [`${i + 1}`] : []),
              side === 'left' ? left : right,
              shown(t),
              ...[0, 1, 2].map((k) => (tones[k] === undefined ? '' : shown(tones[k]))),
            ].join(separator),
          );
          const head = [...(numbered ? ['spoke'] : []), 'side', 'tension kgf', 'tone 1 Hz', 'tone 2 Hz', 'tone 3 Hz'];
          const table = read([head.join(separator), ...lines]);
          expect(table.problems).toEqual([]);
          for (const side of ['left', 'right'] as const) {
            const own = rows.filter((one) => one.side === side);
            expect(table[side]).toEqual(own.map((one) => one.tension));
            if (rows.some((one) => one.tones.length > 0))
              expect(table.tonesHz?.[side]).toEqual(own.map((one) => one.tones));
          }
        },
      ),
    );
  });

  it('never throws, whatever is pasted', () => {
    const cell = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom('L', 'right', '57', '1,050', '"', 'kgf', 'Hz', '–'),
    );
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 12 }),
        fc.constantFrom(';', ',', '\t', '|', ' '),
        (rows, by) => {
          const text = rows.map((cells) => cells.join(by)).join('\n');
          for (const only of ['tensions', 'tones'] as const) {
            const table = readSheet(text, only);
            expect(table.ok).toBe(table.problems.length === 0);
            for (const value of [...table.left, ...table.right]) expect(Number.isFinite(value)).toBe(true);
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  it('takes a # in a cell of its own for the head of the numbers, and a line that begins with one for a remark', () => {
    const text = '# made up\n#,L kgf,R kgf,off L %\n1,55,104,-0.5\n2,57,108,3.2';
    expect(readSheet(text)).toMatchObject({ ok: true, left: [55, 57], right: [104, 108], unread: ['off L %'] });
  });

  it('is read from a table drawn with bars, with or without the outer ones, numbers by their decimal sign', () => {
    const drawn = [
      '| spoke | left, kgf | right, kgf |',
      '| ---: | :---: | :--- |',
      '| 1 | 55,5 | 104 |',
      '| 2 | 57 | 108,5 |',
    ];
    expect(read(drawn)).toMatchObject({ ok: true, unit: 'kgf', left: [55.5, 57], right: [104, 108.5] });
    expect(read(drawn.map((line) => line.replace(/^\| | \|$/g, '')))).toMatchObject(read(drawn));
    expect(read(['| left |', '|---|', '| 700 |', '', '| right |', '|---|', '| 1000 |'])).toMatchObject({
      ok: true,
      left: [700],
      right: [1000],
    });
  });

  it.each([
    ['units behind each figure, in cells', ['Spoke\tLeft\tRight', '1\t570 N\t1020 N'], 'N', [570], [1020]],
    ['units behind each figure, with blanks', ['left 57 kgf', 'right 110 kgf'], 'kgf', [57], [110]],
    ['units behind each figure, with commas', ['side,tension', 'left,57 kgf', 'right,110 kgf'], 'kgf', [57], [110]],
    ['an uncertainty each, then the unit', ['Left;Right', '570 ± 20 N;1020 ± 30 N'], 'N', [570], [1020]],
    ['a unit each, then the uncertainty', ['Left;Right', '570 N ± 20;1020 N +/- 30'], 'N', [570], [1020]],
    [
      'thousands by comma beside decimals',
      ['Left\tRight', '970.5\t1,020.5', '975\t1,031'],
      undefined,
      [970.5, 975],
      [1020.5, 1031],
    ],
    ['thousands by point beside decimals', ['Left\tRight', '970,5\t1.020,5'], undefined, [970.5], [1020.5]],
    ['units in a line below the sides', ['Spoke\tLeft\tRight', '\tkgf\tkgf', '1\t57\t102'], 'kgf', [57], [102]],
    [
      'the unit in a line above the sides',
      ['\tTension (N)\t', 'Spoke\tLeft\tRight', '1\t570\t1020'],
      'N',
      [570],
      [1020],
    ],
    ['bold cells', ['| **Left kgf** | **Right kgf** |', '|---|---|', '| **57** | 110 |'], 'kgf', [57], [110]],
  ] as const)('is read with %s', (_, lines, unit, left, right) => {
    const table = read(lines);
    expect(table).toMatchObject({ ok: true, problems: [], left, right });
    expect(table.unit).toBe(unit);
  });

  it('never passes over a first row in silence because its figures cannot be read', () => {
    expect(problems(['left;right', '~57;~110'])).toEqual([[2, 'notAFigure', '~57']]);
    expect(problems(['left;right', '57?;110?', '58;111'])).toEqual([[2, 'notAFigure', '57?']]);
  });

  it('writes thousands without decimals as none: the rounding of the table is that of its last digit', () => {
    expect(read(['Left\tRight', '970.5\t1,020', '975.0\t1,031']).decimals).toBe(1);
  });

  it('names the line of a drawn table that holds no figure where one belongs', () => {
    const drawn = ['|left|right|', '|---|---|', '|700|1000|', '|slack|1010|'];
    expect(problems(drawn)).toEqual([[4, 'notAFigure', 'slack']]);
  });

  it('comes in from UTF-16 and from the old Windows encoding as from UTF-8', () => {
    const text = 'côté;kgf;Hz\r\ngauche;57,5;380\r\ndroite;110;593\r\n';
    for (const bytes of [
      Buffer.from(text, 'utf8'),
      Buffer.from(`\uFEFF${text}`, 'utf16le'),
      Buffer.from(`\uFEFF${text}`, 'utf16le').swap16(),
      Buffer.from(text, 'latin1'),
    ]) {
      const decoded = decodeText(new Uint8Array(bytes));
      expect(decoded.ok && readSheet(decoded.text)).toMatchObject({
        ok: true,
        left: [57.5],
        right: [110],
        tonesHz: { left: [[380]], right: [[593]] },
      });
    }
  });

  it('with forces beside the tension takes the tension alone, and says which columns were not read', () => {
    const table = read([
      'spoke;side;tension (N);U, k = 2 (N);u own (N);limit (N);max N;deviation (N);uncertainty, N',
      '1;right;971;26;7;1150;1150;-3;13',
      '2;left;518;22;5;1150;1150;2;11',
    ]);
    expect(table).toMatchObject({ ok: true, left: [518], right: [971], unit: 'N' });
    expect(table.unread).toHaveLength(6);
  });

  it('with two columns that may be the tension is refused once, by both names, and nothing is guessed', () => {
    const lines = ['side;before, N;after, N', 'left;500;518', 'right;950;971'];
    expect(problems(lines)).toEqual([[1, 'severalTensions', 'before, N; after, N']]);
    expect(problems(['left kgf;right kgf;left again kgf', '57;110;56'])).toMatchObject([
      [1, 'severalTensions', 'left kgf; right kgf; left again kgf'],
    ]);
  });
});
