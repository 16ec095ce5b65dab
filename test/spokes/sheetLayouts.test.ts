import { describe, expect, it } from 'vitest';
import { gaugeReadings } from '../../src/spokes/gaugeReadings.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';
import { tableProblemText } from '../../src/ui/screens/evidence/tableProblemText.ts';

/** Invented, kgf. */
const LEFT = [54, 52, 55, 53, 51, 56];
const RIGHT = [104, 101, 107, 103, 99, 105];
const rows = (line: (left: number, right: number, place: number) => string): string =>
  LEFT.map((left, i) => line(left, RIGHT[i] ?? 0, i + 1)).join('\n');
const columns = (left: string, right: string, place = 'no') =>
  `${place};${left};${right}\n${rows((a, b, i) => `${i};${a};${b}`)}`;

describe('a sheet as its author laid it out', () => {
  it.each([
    ['one line a side', `DS ${RIGHT.join(' ')}\nNDS ${LEFT.join(' ')}`],
    ['one line a side, colon and commas', `Drive side: ${RIGHT.join(', ')}\nNon-drive side: ${LEFT.join(', ')}`],
    ['one line below each side’s name', `Left\n${LEFT.join(' ')}\nRight\n${RIGHT.join(' ')}`],
    [
      'a row a side, a column a spoke',
      `Spoke;${RIGHT.map((_, i) => i + 1).join(';')}\nLeft;${LEFT.join(';')}\nRight;${RIGHT.join(';')}`,
    ],
    ['Italian, abbreviated', `Raggio, Lato, Valore\n${rows((a, b, i) => `${i}, SX, ${a}\n${i}, DX, ${b}`)}`],
    ['Spanish', `Radio|Lado|Valor\n${rows((a, b, i) => `${i}|izq|${a}\n${i}|der|${b}`)}`],
    ['Portuguese', columns('Esquerda', 'Direita', 'Raio')],
    ['Dutch', columns('Links', 'Rechts', 'Spaak')],
    ['Swedish', columns('Vänster', 'Höger', 'Eker')],
    ['Danish', columns('venstre', 'højre', 'eger')],
    ['Polish', columns('Lewa', 'Prawa')],
    ['Czech', columns('levá', 'pravá')],
    ['Japanese', columns('左', '右')],
    ['with blanks between number, side and figure', rows((a, b, i) => `${2 * i - 1} R ${b}\n${2 * i} L ${a}`)],
  ])('%s', (_, text) => {
    expect(readSheet(text)).toMatchObject({ ok: true, problems: [], left: LEFT, right: RIGHT });
  });

  it('has its unit where the author put it: in a title, or below', () => {
    const table = columns('left', 'right');
    expect(readSheet(`Rear wheel, tension in kgf\n${table}`).unit).toBe('kgf');
    expect(readSheet(`Rear wheel (N)\n${table}`).unit).toBe('N');
    expect(readSheet(`${table}\nall in newtons`)).toMatchObject({ ok: true, unit: 'N', unread: ['all in newtons'] });
    // A name is no unit.
    expect(readSheet(`Wheel of N. Nobody\n${table}`).unit).toBeUndefined();
    // Nor is an article a side.
    expect(readSheet(`Spannung der Speichen in kgf\n${table}`)).toMatchObject({ ok: true, left: LEFT, right: RIGHT });
    expect(readSheet('Disc wheel\n104\n101').problems).toMatchObject([{ reason: 'noSides' }, { reason: 'noSides' }]);
    // A side on one line takes it from its label.
    expect(readSheet(`DS (kgf): ${RIGHT.join(' ')}\nNDS (kgf): ${LEFT.join(' ')}`)).toMatchObject({
      unit: 'kgf',
      left: LEFT,
      right: RIGHT,
    });
  });

  it('with words below the table names them as not read', () => {
    expect(readSheet(`${columns('left', 'right')}\nMeasured at 20 °C without a tyre`).unread).toEqual([
      'Measured at 20 °C without a tyre',
    ]);
  });

  it.each([
    ['left %;right %\n100;101\n99;100', 'unitNotRead', '%'],
    ['left daN;right daN\n54;104', 'unitNotRead', 'daN'],
    // A thousand and twenty, or a little more than one?
    ['left N;right N\n530;1.020\n510;990', 'unclearDecimals', '1.020'],
    ['DS 104 101 broken 99 105\nNDS 54 52 55 53 51', 'notAFigure', 'broken'],
  ])('%j is told, once', (text, reason, detail) => {
    expect(readSheet(text).problems).toEqual([{ line: expect.any(Number), reason, detail }]);
  });

  it('of four readings a spoke is not taken for one line a side', () => {
    const twice = `L 54 52 55 53\nR 104 101 107 103\nL 51 56 54 52\nR 99 105 101 102`;
    expect(readSheet(twice).problems.map((one) => one.reason)).toContain('severalFigures');
  });

  it('gives marks to a thousandth as such: a dial shows them, and spoke numbers are no tensions', () => {
    expect(gaugeReadings('1;2.350\n2;1.980\n3;2.040', 4)).toMatchObject({ ok: true });
  });
});

describe('gauge readings by side', () => {
  const sides = ['right', 'left', 'right', 'left'] as const;
  const read = (text: string) => gaugeReadings(text, 4, [1, 2, 3, 4], sides);

  it.each(['Right (kgf):\n105\n104\nLeft\n58\n59', 'Left;58\nLeft;59\nRight;105\nRight;104'])(
    'go to the places of the side that is named: %j',
    (text) => {
      const { ok, readings } = read(text);
      expect(ok).toBe(true);
      expect(Object.fromEntries(readings.map(({ spoke, values }) => [spoke, values]))).toEqual({
        1: [105],
        2: [58],
        3: [104],
        4: [59],
      });
    },
  );

  it('are refused where a side has more of them than spokes, and in columns whose numbers are not this wheel’s', () => {
    expect(read('Right\n105\n104\n103\nLeft\n58').problems).toMatchObject([{ line: 4, reason: 'tooManyRows' }]);
    expect(read('spoke;left kgf;right kgf\n1;58;105\n2;59;104').problems).toMatchObject([
      { line: 1, reason: 'columnsBySide' },
    ]);
  });
});

describe('gauge readings of spokes called by side and number', () => {
  const sides = ['right', 'left', 'right', 'left', 'right', 'left'] as const;
  const read = (text: string) => gaugeReadings(text, 6, undefined, sides);
  const spokes = (text: string) => Object.fromEntries(read(text).readings.map((one) => [one.spoke, one.values]));

  it.each([
    'L1;58\nL2;59\nR1;105\nR3;104',
    'spoke;kgf\n1L;58\n2 L;59\n1R;105\n3R;104',
    'left 1 58\nleft 2 59\nright 1 105\nright 3 104',
    'NDS1,58\nNDS 2,59\nDS-1,105\nDS3,104',
  ])('counted on each side from 1 go to that side’s spokes in the wheel’s order: %j', (text) => {
    expect(read(text)).toMatchObject({ ok: true, numbered: true });
    expect(spokes(text)).toEqual({ 2: [58], 4: [59], 1: [105], 5: [104] });
  });

  it('of one side given whole are that side’s, and counted all round those of their number', () => {
    expect(spokes('L1;58\nL2;59\nL3;57')).toEqual({ 2: [58], 4: [59], 6: [57] });
    expect(spokes('1R;105\n2L;58\n3R;104\n4L;59\n5R;106\n6L;57')).toEqual({
      1: [105],
      2: [58],
      3: [104],
      4: [59],
      5: [106],
      6: [57],
    });
    expect(spokes('1;right;105\n3;right;104')).toEqual({ 1: [105], 3: [104] });
  });

  it('that may be counted either way, or may be a reading, are refused with what to write', () => {
    for (const text of ['R1;105\nR3;104', 'R2;105\nL3;58'])
      expect(read(text).problems, text).toMatchObject([{ line: 1, reason: 'numberUnclear' }]);
    expect(read('105\nR104').problems).toMatchObject([{ line: 2, reason: 'numberAlone' }]);
    expect(read('1;left;58\n2;right;105').problems.map(({ reason }) => reason)).toContain('sideContradicts');
    expect(tableProblemText(1, 'numberUnclear', 'R1')).toMatch(/write the number in this wheel alone/);
  });
});

describe('a dash among gauge readings, or nothing', () => {
  it('is a spoke without one', () => {
    for (const text of ['1;105;104\n2;-;-\n3;99;–', '1;105;104\n2;;\n3;99;'])
      expect(gaugeReadings(text, 3), text).toMatchObject({
        ok: true,
        missing: [2],
        readings: [
          { spoke: 1, values: [105, 104] },
          { spoke: 3, values: [99] },
        ],
      });
  });
});
