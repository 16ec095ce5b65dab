import { describe, expect, it } from 'vitest';
import { getAt, pointerKey, setAt } from '../../../src/ui/screens/describe/atPath.ts';
import { RIM_DIAMETER, SPOKE_COUNT } from '../../../src/ui/screens/describe/fields.ts';
import { type FigureField, readFigure, showFigure } from '../../../src/ui/screens/describe/figureField.ts';
import { parseDecimal } from '../../../src/ui/screens/describe/parseDecimal.ts';

const MM = { length: 'mm', tension: 'N' } as const;
const INCH = { length: 'in', tension: 'kgf' } as const;
const LIMIT: FigureField = { path: 'x', label: 'Maximum', quantity: 'tension', low: 100, high: 3000, optional: true };

describe('a typed figure', () => {
  it('is read with comma and with point alike', () => {
    expect(parseDecimal('602,5')).toBe(602.5);
    expect(parseDecimal('602.5')).toBe(602.5);
    expect(parseDecimal(' 1 050 ')).toBe(1050);
    expect(parseDecimal('−2,5')).toBe(-2.5);
  });
  it('with both signs at once is refused rather than guessed', () => {
    expect(parseDecimal('1.234,5')).toBeUndefined();
    expect(parseDecimal('1,234.5')).toBeUndefined();
  });
  it.each(['', 'abc', '12a', '1e3', '--2', '1,,2', 'Infinity'])('“%s” is no figure', (raw) => {
    expect(parseDecimal(raw)).toBeUndefined();
  });
});

describe('a field', () => {
  it('says what is wrong and what would be right', () => {
    const absurd = readFigure('3000', RIM_DIAMETER, MM);
    expect(absurd).toEqual({ ok: false, wrong: '3000 is too large; right would be 150 to 800 mm.' });
    expect(readFigure('abc', RIM_DIAMETER, MM)).toMatchObject({
      ok: false,
      wrong: expect.stringContaining('“abc” is no figure'),
    });
    expect(readFigure('', RIM_DIAMETER, MM)).toMatchObject({ ok: false, wrong: expect.stringContaining('needed') });
    expect(readFigure('31,5', SPOKE_COUNT, MM)).toMatchObject({
      ok: false,
      wrong: expect.stringContaining('whole number'),
    });
  });
  it('keeps lengths in millimetres and tensions in newtons whatever was typed (25.4 mm to the inch, 9.80665 N to the kgf)', () => {
    const inches = readFigure('23.7', RIM_DIAMETER, INCH);
    expect(inches.ok && inches.value).toBeCloseTo(23.7 * 25.4, 9);
    const limit = readFigure('120', LIMIT, INCH);
    expect(limit.ok && limit.value).toBeCloseTo(120 * 9.80665, 9);
  });
  it('shows what it keeps without losing what a ruler resolves', () => {
    expect(showFigure(602.5, 'length', MM)).toBe('602.5');
    expect(showFigure(602.5, 'length', INCH)).toBe('23.7205');
  });
  it('that is optional may be left empty', () => {
    expect(readFigure('', LIMIT, MM)).toEqual({ ok: true, value: undefined });
  });
});

describe('a path', () => {
  it('changes one place and leaves the rest as it was', () => {
    const before = { a: { b: [1, 2] }, c: 3 };
    const after = setAt(before, 'a.b.1', 5);
    expect(after).toEqual({ a: { b: [1, 5] }, c: 3 });
    expect(before.a.b[1]).toBe(2);
  });
  it('removes a place with undefined and makes what is missing on the way', () => {
    expect(setAt({ a: { b: 1, c: 2 } }, 'a.b', undefined)).toEqual({ a: { c: 2 } });
    expect(setAt({}, 'a.b', 1)).toEqual({ a: { b: 1 } });
  });
  it('reaches names with dots and strokes as a JSON Pointer (RFC 6901)', () => {
    const kinds = { kinds: { '2.0/1.8~x': { w: 1 } } };
    expect(getAt(kinds, `/kinds/${pointerKey('2.0/1.8~x')}/w`)).toBe(1);
  });
  it('does not reach what an object merely inherits', () => {
    expect(getAt({}, 'constructor.name')).toBeUndefined();
  });
});
