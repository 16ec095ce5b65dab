import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeText } from '../../src/spokes/decodeText.ts';
import { farFromSide } from '../../src/spokes/farFromSide.ts';
import { gaugeReadings } from '../../src/spokes/gaugeReadings.ts';

describe('gauge readings from a table', () => {
  const values = (text: string, count = 4) => {
    const { ok, readings, problems } = gaugeReadings(text, count);
    return ok
      ? readings.map((one) => [one.spoke, ...one.values])
      : problems.map((p) => `${p.line} ${p.reason} ${p.detail}`);
  };

  it.each([
    [
      '1;1050\n2;980',
      [
        [1, 1050],
        [2, 980],
      ],
    ],
    [
      '1,1050\n2,980',
      [
        [1, 1050],
        [2, 980],
      ],
    ],
    [
      '1\t1050,5\n2\t980,25',
      [
        [1, 1050.5],
        [2, 980.25],
      ],
    ],
    [
      '1;1050,5;1049\n2;980,0;985',
      [
        [1, 1050.5, 1049],
        [2, 980, 985],
      ],
    ],
    [
      '1, 1050.5, 1049\n2, 980.0, 985',
      [
        [1, 1050.5, 1049],
        [2, 980, 985],
      ],
    ],
    [
      '1050\n980\n1010',
      [
        [1, 1050],
        [2, 980],
        [3, 1010],
      ],
    ],
    [
      '1050,5\n980,2',
      [
        [1, 1050.5],
        [2, 980.2],
      ],
    ],
    [
      '105.5 104.0\n98.2 99.1',
      [
        [1, 105.5, 104],
        [2, 98.2, 99.1],
      ],
    ],
    [
      '\uFEFFspoke;tension\r\n1;1050\r\n\r\n# later\r\n3;980\r\n',
      [
        [1, 1050],
        [3, 980],
      ],
    ],
    [
      'spoke,kgf\n1,"105"\n2,98',
      [
        [1, 105],
        [2, 98],
      ],
    ],
    [
      '20,5\n21\n22,75',
      [
        [1, 20.5],
        [2, 21],
        [3, 22.75],
      ],
    ],
    [
      '#;kgf\n3;105\n1;98',
      [
        [3, 105],
        [1, 98],
      ],
    ],
    [
      '1;1 050\n2;980',
      [
        [1, 1050],
        [2, 980],
      ],
    ],
  ])('%j', (text, expected) => expect(values(text)).toEqual(expected));

  it('finds the unit in the head or beside the figures', () => {
    expect(gaugeReadings('spoke;tension (kgf)\n1;105', 4).unit).toBe('kgf');
    expect(gaugeReadings('1;105 kgf\n2;98 kgf', 4).unit).toBe('kgf');
    expect(gaugeReadings('1;1050 N\n2;980 N', 4).unit).toBe('N');
    expect(gaugeReadings('1;1050\n2;980', 4).unit).toBeUndefined();
  });

  it.each([
    ['1;1050\n9;980', ['2 spokeUnknown 9; 1–4']],
    ['1;1050\n1;980', ['2 spokeRepeated 1, 1']],
    ['1;1050\n2;abc', ['2 notAFigure abc']],
    ['1;1050 N\n2;98 kgf', ['2 unitsMixed N, kgf']],
    ['3 1 050\n1 980', ['1 repeatsApart 1, 50']],
    ['1,23,5\n2,24,5', ['1 repeatsApart 23, 5', '2 repeatsApart 24, 5']],
    ['1;1050\n2;-5', ['2 notPositive -5']],
    ['1\n2\n3\n4\n5', ['5 tooManyRows 5 > 4']],
    ['', ['0 empty –']],
    ['1;"1050\n2;980', ['1 brokenQuote 1;"1050']],
    ['1;1050\u0000', ['0 notText @ 6']],
  ])('%j is refused by its line, and nothing of it is taken', (text, said) => expect(values(text)).toEqual(said));

  it('of five megabytes are refused at once', () => {
    const started = '1;1050\n'.repeat(800_000);
    expect(values(started)).toEqual([`0 tooLong ${started.length} > 1000000`]);
  });

  it('names the spokes that have none', () => expect(gaugeReadings('1;1050\n3;980', 4).missing).toEqual([2, 4]));

  it('may name their sides, which must be the spokes’ own', () => {
    const sides = ['right', 'left', 'right', 'left'] as const;
    const read = (text: string) => gaugeReadings(text, 4, undefined, sides);
    expect(read('spoke;side;kgf\n1;R;105\n2;left;57').readings.map(({ spoke, values }) => [spoke, ...values])).toEqual([
      [1, 105],
      [2, 57],
    ]);
    expect(read('1;R;105\n2;drive side;57').problems).toEqual([
      { line: 2, reason: 'sideContradicts', detail: '2: left, not right' },
    ]);
  });

  it('without numbers say so, for nobody knows which one is missing', () => {
    expect(gaugeReadings('1050\n980\n1010', 4)).toMatchObject({ ok: true, numbered: false, missing: [4] });
    expect(gaugeReadings('1;1050\n4;980', 4)).toMatchObject({ ok: true, numbered: true, missing: [2, 3] });
  });

  it('follow the order of the round', () => {
    const { readings } = gaugeReadings('1050\n980\n1010\n990', 4, [1, 3, 2, 4]);
    expect(readings.map((one) => one.spoke)).toEqual([1, 3, 2, 4]);
  });

  it('survive any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const { ok, problems } = gaugeReadings(text, 32);
        expect(ok).toBe(problems.length === 0);
      }),
    );
  });
});

describe('readings far from their side', () => {
  const sides = Array.from({ length: 8 }, (_, i) => (i % 2 === 0 ? 'right' : 'left') as 'left' | 'right');
  const far = (...values: readonly number[]) =>
    farFromSide(
      values.map((value, i) => ({ spoke: i + 1, values: [value] })),
      sides,
    );
  it('are named where one is written in another unit: 1 kgf is 9.80665 N', () => {
    expect(far(110, 57, 1079, 58, 112, 56, 108, 57)).toEqual([{ spoke: 3, value: 1079, middle: 111 }]);
    expect(far(1079, 559, 1090, 57, 1068, 549, 1098, 569)).toEqual([{ spoke: 4, value: 57, middle: 554 }]);
  });
  it('are none on an even wheel, whose sides differ, nor among two', () => {
    expect(far(110, 45, 112, 46, 109, 44, 111, 45)).toEqual([]);
    expect(far(110, 57, 1079)).toEqual([]);
  });
});

describe('a file of unknown encoding', () => {
  const bytes = (text: string) => new Uint8Array([...Buffer.from(text, 'utf8')]);
  it('is read as UTF-8, UTF-16 or Windows-1252', () => {
    expect(decodeText(bytes('Zähler;1050 – ok'))).toMatchObject({ text: 'Zähler;1050 – ok', encoding: 'UTF-8' });
    expect(decodeText(new Uint8Array([0xff, 0xfe, 0x31, 0, 0x3b, 0]))).toMatchObject({
      text: '1;',
      encoding: 'UTF-16',
    });
    expect(decodeText(new Uint8Array([0xfe, 0xff, 0, 0x31, 0, 0x3b]))).toMatchObject({
      text: '1;',
      encoding: 'UTF-16',
    });
    expect(decodeText(new Uint8Array([0x5a, 0xe4, 0x80]))).toMatchObject({ text: 'Zä€', encoding: 'Windows-1252' });
    const unmarked = Buffer.from('Zähler;1050 – ok', 'utf16le');
    for (const one of [unmarked, Buffer.from(unmarked).swap16()])
      expect(decodeText(new Uint8Array(one))).toMatchObject({ text: 'Zähler;1050 – ok', encoding: 'UTF-16' });
    expect(decodeText(new Uint8Array([0x50, 0x4b, 3, 4, 0, 0])).ok).toBe(false);
    expect(decodeText(new Uint8Array([0x52, 0x49, 0x46, 0x46, 0, 0, 1, 2])).ok).toBe(false);
  });

  it('is read whole however long it is, in every encoding', () => {
    const long = 'aä€😀'.repeat(9000);
    expect(decodeText(bytes(long))).toEqual({ ok: true, text: long, encoding: 'UTF-8' });
    expect(decodeText(new Uint8Array([0xff, 0xfe, ...Buffer.from(long, 'utf16le')]))).toEqual({
      ok: true,
      text: long,
      encoding: 'UTF-16',
    });
    expect(decodeText(new Uint8Array(30_000).fill(0xe4))).toMatchObject({ text: 'ä'.repeat(30_000) });
  });

  it('in UTF-8 is what the runtime says it is', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        fc.pre(!text.includes('\u0000') && !text.startsWith('\uFEFF'));
        expect(decodeText(bytes(text))).toMatchObject({ ok: true, text: Buffer.from(text, 'utf8').toString('utf8') });
      }),
    );
  });
});
