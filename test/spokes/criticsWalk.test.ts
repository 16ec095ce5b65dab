import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { checkSheet } from '../../src/spokes/checkSheet.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { gaugeReadings } from '../../src/spokes/gaugeReadings.ts';
import type { LaidSpoke } from '../../src/spokes/laidSpoke.ts';
import { readClaims } from '../../src/spokes/readClaims.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import { secondReadings } from '../../src/spokes/secondReadings.ts';
import { NEEDED_STATEMENTS, type Sheet, type SheetClaim } from '../../src/spokes/sheet.ts';
import { sheetTones } from '../../src/spokes/sheetTones.ts';
import type { Wheel } from '../../src/spokes/wheel.ts';
import { outsideText } from '../../src/ui/screens/evidence/outsideText.ts';
import { newtonMetresPerRadian, newtons, newtonsPerMetre } from '../../src/units.ts';
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

  /** The crossing's distance to the rim as the plain wheel has it, mm. */
  const freeMm = (of: LaidSpoke) => {
    const one = describeMember(plainWheel(), of.number);
    if (!one.ok) throw new RangeError(one.reason);
    const { sections, crossingFromHub = 0 } = one.described.member;
    return 1000 * (sections.reduce((sum, { length }) => sum + length, 0) - crossingFromHub);
  };
  const end = newtonMetresPerRadian(20);
  const ends = { hub: { inPlane: end, across: end }, rim: { inPlane: end, across: end } };
  const rigid = { kind: 'support', stiffness: newtonsPerMetre(Number.POSITIVE_INFINITY) } as const;
  /** Tones that spokes of the right side have on the true wheel, Hz. */
  const tonesOf = (truth: Wheel, tensionsN: readonly number[], count = 1) => {
    const right = spokes.filter(({ side }) => side === 'right');
    return tensionsN.map((tensionN, i) => {
      const one = describeMember(truth, right[i]?.number ?? 1);
      if (!one.ok) throw new RangeError(one.reason);
      return modes(one.described.member, newtons(tensionN), ends, 'inPlane', rigid, count) as readonly number[];
    });
  };
  const rightN = RIGHT.map((value) => value * 9.80665);
  const tonesSheet = (stated: readonly number[], tonesHz: readonly (readonly number[])[]): Sheet => ({
    left: [],
    right: stated,
    decimals: 0,
    unit: 'N',
    claims: [],
    states: [],
    tonesHz: { left: [], right: tonesHz },
  });
  const [anyRight] = spokes.filter(({ side }) => side === 'right');
  const described = anyRight ? freeMm(anyRight) : 0;

  it.each([25, -25])(
    'of a free length %d mm off finds that one cause, and beside it the one row that has another',
    (offMm) => {
      const measured = { crossingToRimMm: { value: described + offMm, u: 0.5 } };
      const plain = plainWheel();
      const sides = plain.sides && { left: plain.sides.left, right: { ...plain.sides.right, measured } };
      const truth: Wheel = { ...plain, ...(sides ? { sides } : {}) };
      const tones = tonesOf(truth, rightN);
      const stated = rightN.map((value, i) => Math.round(i === 5 ? 1.3 * value : value));
      const { findings } = sheetTones(tonesSheet(stated, tones), plain, rememberPrepared(prepareMember), 'N');
      expect(findings.map((one) => one.kind)).toEqual(['tonesContradictTogether', 'tonesContradict']);
      expect(findings[1]).toMatchObject({ side: 'right', index: 5, fromOthersPercent: expect.closeTo(30, 0) });
      const [together] = findings;
      if (together?.kind !== 'tonesContradictTogether') throw new RangeError('together');
      expect(together).toMatchObject({ side: 'right', rows: 15, of: 16, stringExplains: false });
      expect(Math.sign(together.percent)).toBe(Math.sign(offMm));
      expect(together.rings).toMatchObject({ from: 'crossing', lengthMm: expect.closeTo(described, 6) });
      // Tension goes with the square of the length: half the ratio's interval is the length's.
      const expandedMm = (together.wanted.lengthMm * together.expandedPercent) / 200;
      expect(Math.abs(together.wanted.lengthMm - described - offMm)).toBeLessThan(expandedMm);
      expect(expandedMm).toBeLessThan(Math.abs(offMm));
    },
  );

  it('of tones that fit finds nothing, of one row alone that row, and of two halves at odds no cause in common', () => {
    const tones = tonesOf(plainWheel(), rightN);
    const of = (factor: (i: number) => number) =>
      sheetTones(
        tonesSheet(
          rightN.map((value, i) => Math.round(factor(i) * value)),
          tones,
        ),
        plainWheel(),
        rememberPrepared(prepareMember),
        'N',
      ).findings;
    expect(of(() => 1)).toMatchObject([{ severity: 'note', kind: 'tonesFitTogether', side: 'right', rows: 16 }]);
    expect(of((i) => (i === 3 ? 1.3 : 1))).toMatchObject([{ kind: 'tonesContradict', index: 3 }]);
    expect(of((i) => (i % 2 ? 1.3 : 0.7)).filter(({ kind }) => kind === 'tonesContradictTogether')).toEqual([]);
  });

  it('of a free length 6 mm off tells how far off it may be unseen: one tone a spoke leaves the ends open, on all rows alike', () => {
    const measured = { crossingToRimMm: { value: described + 6, u: 0.5 } };
    const plain = plainWheel();
    const sides = plain.sides && { left: plain.sides.left, right: { ...plain.sides.right, measured } };
    const told = (rows: number) => {
      const stated = rightN.slice(0, rows);
      const tones = tonesOf({ ...plain, ...(sides ? { sides } : {}) }, stated);
      const { findings } = sheetTones(tonesSheet(stated, tones), plain, rememberPrepared(prepareMember), 'N');
      const [fit, more] = findings;
      if (fit?.kind !== 'tonesFitTogether' || more) throw new RangeError(JSON.stringify(findings));
      return fit;
    };
    const [few, all] = [told(6), told(16)];
    for (const { percent, expandedPercent, unseenMm } of [few, all]) {
      // Tension goes with the square of the length, and of a stiff string with somewhat more.
      expect(percent).toBeGreaterThan((200 * 6) / described);
      expect(percent).toBeLessThan(expandedPercent);
      expect(unseenMm).toBeGreaterThan(6);
    }
    expect(all.expandedPercent / few.expandedPercent).toBeGreaterThan(0.9);
  });

  it('of several tones a spoke names no length that would pass unseen: ends and numbering may take up part of it', () => {
    const tones = tonesOf(plainWheel(), rightN, 3);
    const { findings } = sheetTones(tonesSheet(rightN, tones), plainWheel(), rememberPrepared(prepareMember), 'N');
    expect(findings).toMatchObject([{ kind: 'tonesFitTogether', rows: 16 }]);
    expect(findings[0]).not.toHaveProperty('unseenMm');
  });

  it('of a gauge leaves out what lies beyond its chart, with the spoke, the mark and the range', () => {
    const points = [20, 22, 24].map((reading, i) => ({ reading, tension: 70 + 20 * i }));
    const chart = { section: '2.0 mm', unit: 'kgf', points } as const;
    const read = gaugeReadings('2;21\n4;24\n6;24.5\n8;19', 32);
    const second = secondReadings(
      {
        id: 'g',
        name: 'Gauge',
        scale: 'chart',
        unit: 'kgf',
        charts: { left: chart, right: chart },
        rounds: [{ id: 'r', at: '2026-01-01T00:00:00.000Z', state: { tyre: 'off' }, readings: read.readings }],
      },
      spokes.map(({ side }) => side),
    );
    expect([...second.readings.keys()]).toEqual([2, 4]);
    expect(second.outside).toEqual([
      { spoke: 6, value: 24.5, chart: '20–24' },
      { spoke: 8, value: 19, chart: '20–24' },
    ]);
    expect(outsideText(second.outside)).toBe('spoke 6 (24.5), spoke 8 (19), where the chart covers 20–24');
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
