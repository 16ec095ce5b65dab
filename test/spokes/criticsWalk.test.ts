import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/spokes/checkSheet.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { readClaims } from '../../src/spokes/readClaims.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';
import { NEEDED_STATEMENTS, type Sheet, type SheetClaim } from '../../src/spokes/sheet.ts';
import { plainWheel } from './plainWheel.ts';

const laid = expandLayout(plainWheel().layout);
const spokes = laid.ok ? laid.spokes : [];
/** Invented, kgf: sixteen a side, 0.52 : 1 as the hub of the plain wheel demands. */
const RIGHT = [112, 109, 111, 107, 113, 110, 108, 112, 111, 106, 110, 114, 109, 110, 108, 112];
const LEFT = [58, 56, 57, 55, 60, 57, 56, 59, 57, 54, 57, 58, 56, 58, 57, 60];
const table = (
  left: readonly (number | string)[],
  right: readonly (number | string)[],
  head = 'spoke;left kgf;right kgf',
) => [head, ...right.map((value, i) => `${i + 1};${left[i] ?? ''};${value}`)].join('\n');

/** As the screen puts a sheet together from what was pasted and typed. */
function walk(
  text: string,
  claimed: Partial<Record<'left' | 'right' | 'wheel', Partial<Record<'mean' | 'spread', string>>>> = {},
  limits?: Sheet['limits'],
) {
  const read = readSheet(text);
  expect(read.problems).toEqual([]);
  const claims: SheetClaim[] = [];
  for (const [of, both] of Object.entries(claimed))
    for (const [what, written] of Object.entries(both))
      claims.push(...readClaims(written, of as SheetClaim['of'], what as SheetClaim['what']).claims);
  const { findings } = checkSheet(
    { ...read, claims, ...(limits ? { limits } : {}), states: [...NEEDED_STATEMENTS] },
    spokes,
  );
  return {
    findings,
    faults: findings
      .filter((one) => one.severity === 'fault')
      .map((one) => one.kind)
      .toSorted(),
  };
}
const kgfAsN = (side: readonly number[]) => side.map((value) => (value * 9.80665).toFixed(0));
const fixed = (value: number, digits = 1) => value.toFixed(digits);

describe('a sceptical walk through invented sheets', () => {
  it('finds nothing in one that adds up, in kgf, in N, with a decimal comma', () => {
    const claimed = {
      right: { mean: fixed(mean(RIGHT)), spread: `${fixed((100 * sampleStandardDeviation(RIGHT)) / mean(RIGHT))} %` },
    };
    expect(walk(table(LEFT, RIGHT), claimed, { maximum: 120, unit: 'kgf' }).faults).toEqual([]);
    expect(
      walk(table(kgfAsN(LEFT), kgfAsN(RIGHT), 'spoke;left N;right N'), {}, { maximum: 120, unit: 'kgf' }).faults,
    ).toEqual([]);
    const comma = (side: readonly number[]) => side.map((value) => `${value},5`);
    expect(
      walk(table(comma(LEFT), comma(RIGHT)), { right: { mean: fixed(mean(RIGHT) + 0.5).replace('.', ',') } }).faults,
    ).toEqual([]);
  });

  it('of kgf called N finds the unit alone: claim and limit in their own unit are held against the usual one', () => {
    const text = table(LEFT, RIGHT, 'spoke;left N;right N');
    const { findings, faults } = walk(
      text,
      { right: { mean: `${fixed(mean(RIGHT))} kgf` } },
      { maximum: 120, minimum: 50, unit: 'kgf' },
    );
    expect(faults).toEqual(['unitImplausible']);
    expect(findings.map((one) => one.kind)).not.toContain('beyondLimit');
    expect(findings[0]).toMatchObject({ stated: 'N', plausible: ['kgf'] });
  });

  it('names the definition by which a claimed spread follows, whichever it was', () => {
    const values = RIGHT.map((value) => Math.abs(value - mean(RIGHT)));
    const range = Math.max(...RIGHT) - Math.min(...RIGHT);
    for (const [claimed, definition] of [
      [fixed(sampleStandardDeviation(RIGHT), 3), 'sampleSd'],
      [fixed(sampleStandardDeviation(RIGHT) * Math.sqrt(15 / 16), 3), 'populationSd'],
      [`${fixed((100 * sampleStandardDeviation(RIGHT)) / mean(RIGHT), 3)} %`, 'sampleSd'],
      [fixed(range, 3), 'range'],
      [`± ${fixed(range / 2, 3)}`, 'halfRange'],
      [fixed(mean(values), 3), 'meanAbsoluteDeviation'],
      [fixed(Math.max(...values), 3), 'maximumDeviation'],
    ] as const) {
      const { findings, faults } = walk(table(LEFT, RIGHT), { right: { spread: claimed } });
      expect(faults, claimed).toEqual([]);
      const follows = findings.find((one) => one.kind === 'spreadFollows');
      expect(follows?.kind === 'spreadFollows' && follows.definitions, claimed).toContain(definition);
    }
  });

  it.each([
    ['of all spokes that is one side’s', { wheel: { mean: fixed(mean(RIGHT)) } }, 'rightSide'],
    ['of one side that is the other’s', { right: { mean: fixed(mean(LEFT)) } }, 'otherSide'],
    ['of one side that is both sides’', { left: { mean: fixed(mean([...LEFT, ...RIGHT])) } }, 'bothSides'],
  ] as const)('explains a mean %s', (_, claimed, explains) => {
    const { findings, faults } = walk(table(LEFT, RIGHT), claimed);
    expect(faults).toEqual(['meanDoesNotFollow']);
    expect(findings.find((one) => one.kind === 'meanDoesNotFollow')).toMatchObject({ explains });
  });

  it('of a limit in the wrong unit finds the limit alone, and holds no row against it', () => {
    for (const limits of [
      { maximum: 120, unit: 'N' },
      { maximum: 1180, unit: 'kgf' },
      { maximum: 1180, unit: 'lbf' },
    ] as const) {
      const { findings, faults } = walk(table(LEFT, RIGHT), {}, limits);
      expect(faults).toEqual(['limitImplausible']);
      expect(findings.filter((one) => one.kind === 'beyondLimit')).toEqual([]);
    }
  });

  it('of sides swapped finds the ratio, of a spoke missing says so, of a row too many and a number twice both', () => {
    expect(walk(table(RIGHT, LEFT)).faults).toEqual(['ratioContradicts']);
    const missing = walk(table(LEFT, RIGHT.slice(0, 15)));
    expect(missing.faults).toEqual([]);
    expect(missing.findings).toContainEqual({
      severity: 'note',
      kind: 'countDiffers',
      side: 'right',
      count: 15,
      described: 16,
    });
    const lines = table(LEFT, RIGHT).split('\n');
    expect(walk([...lines.slice(0, 8), lines[7], ...lines.slice(9)].join('\n')).faults).toEqual([
      'placeRepeated',
      'placeRepeated',
    ]);
  });

  it('of three different ones finds three and no fourth', () => {
    const text = table(RIGHT, LEFT, 'spoke;left N;right N');
    expect(walk(text, { left: { spread: '0.4 %' } }, { maximum: 120, unit: 'kgf' }).faults).toEqual([
      'ratioContradicts',
      'spreadDoesNotFollow',
      'unitImplausible',
    ]);
  });
});
