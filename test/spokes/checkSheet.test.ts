import fc from 'fast-check';
import { mean, sampleStandardDeviation, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { checkSheet } from '../../src/spokes/checkSheet.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import { NEEDED_STATEMENTS, type Sheet, type SheetClaim } from '../../src/spokes/sheet.ts';
import { sheetTones, stringTensions } from '../../src/spokes/sheetTones.ts';
import { spreadValues } from '../../src/spokes/spreadDefinitions.ts';
import { hertz, newtonMetresPerRadian, newtons, newtonsPerMetre } from '../../src/units.ts';
import { plainWheel } from './plainWheel.ts';

const wheel = plainWheel();
const laid = expandLayout(wheel.layout);
const spokes = laid.ok ? laid.spokes : [];
/** Sixteen a side in kgf, ratio 0.517 as the hub demands. */
const RIGHT = Array.from({ length: 16 }, (_, i) => 110 + (((i * 5) % 9) - 4));
const LEFT = Array.from({ length: 16 }, (_, i) => 57 + (((i * 5) % 7) - 3));
const sheet = (change: Partial<Sheet> = {}): Sheet => ({
  left: LEFT,
  right: RIGHT,
  decimals: 0,
  unit: 'kgf',
  claims: [],
  states: [...NEEDED_STATEMENTS],
  ...change,
});
const claim = (change: Partial<SheetClaim>): SheetClaim => ({
  of: 'right',
  what: 'mean',
  value: 0,
  decimals: 1,
  percent: false,
  ...change,
});
const faults = (one: Sheet) =>
  checkSheet(one, spokes)
    .findings.filter((finding) => finding.severity === 'fault')
    .map((finding) => finding.kind);

describe('checking a sheet', () => {
  it('finds nothing wrong with one that adds up and says what it needs', () => {
    const clean = sheet({
      claims: [
        claim({ value: Number(mean(RIGHT).toFixed(1)) }),
        claim({ of: 'left', value: Number(mean(LEFT).toFixed(1)) }),
        claim({
          what: 'spread',
          percent: true,
          value: Number(((100 * sampleStandardDeviation(RIGHT)) / mean(RIGHT)).toFixed(1)),
        }),
      ],
      limits: { maximum: 120, unit: 'kgf' },
    });
    expect(faults(clean)).toEqual([]);
    expect(checkSheet(clean, spokes).lacks).toEqual([]);
  });

  it('finds three planted faults and no fourth', () => {
    // The unit left out and the figures scaled so that none fits; a spread that no definition gives; sides nearly alike on a dished hub.
    const planted = sheet({
      left: RIGHT.map((value) => (value - 8) / 5),
      right: RIGHT.map((value) => value / 5),
      decimals: 1,
      unit: undefined as never,
      claims: [
        claim({ value: Number(mean(RIGHT.map((value) => value / 5)).toFixed(1)) }),
        claim({ what: 'spread', percent: true, value: 1.1 }),
      ],
    });
    expect(faults(planted).toSorted()).toEqual(['ratioContradicts', 'spreadDoesNotFollow', 'unitMissing']);
  });

  it('names the only unit that the figures can be in', () => {
    const { findings, unit } = checkSheet(sheet({ unit: undefined as never }), spokes);
    expect(findings[0]).toEqual({ severity: 'fault', kind: 'unitMissing', plausible: ['kgf'] });
    expect(unit).toBe('kgf');
    expect(faults(sheet({ unit: 'N' }))).toEqual(['unitImplausible']);
  });

  it('names every definition of spread that gives the claim, and the nearest if none does', () => {
    const definitionsOf = (value: number, decimals = 2) => {
      const [finding] = checkSheet(
        sheet({ decimals: 6, claims: [claim({ what: 'spread', percent: true, value, decimals })] }),
      ).findings;
      return finding?.kind === 'spreadFollows'
        ? finding.definitions
        : finding?.kind === 'spreadDoesNotFollow'
          ? finding.nearest.definition
          : undefined;
    };
    for (const { definition, percent } of spreadValues(RIGHT))
      expect(definitionsOf(Number(percent.toFixed(2)))).toContain(definition);
    expect(definitionsOf(40)).toBe('rangeOverLowest');
  });

  it('holds a claim in a unit of its own against the table in that unit', () => {
    // 1 kgf is 9.80665 N (CGPM 1901, resolution 3).
    const inNewtons = Number((9.80665 * mean(RIGHT)).toFixed(0));
    const one = (value: number) =>
      checkSheet(sheet({ claims: [claim({ value, decimals: 0, unit: 'N' })] })).findings.find(({ kind }) =>
        kind.startsWith('mean'),
      );
    expect(one(inNewtons)?.kind).toBe('meanFollows');
    expect(one(inNewtons + 12)).toMatchObject({
      kind: 'meanDoesNotFollow',
      computed: expect.closeTo(9.80665 * mean(RIGHT), 6),
    });
    const spread = claim({ what: 'spread', value: Number((9.80665 * 8).toFixed(0)), decimals: 0, unit: 'N' });
    expect(checkSheet(sheet({ claims: [spread] })).findings[0]).toMatchObject({ kind: 'spreadFollows' });
  });

  it('counts the spokes against the described wheel: more do not add up, fewer deserve a word', () => {
    const counted = (right: readonly number[]) =>
      checkSheet(sheet({ right }), spokes).findings.flatMap((one) =>
        one.kind === 'countDiffers' ? [`${one.severity} ${one.side} ${one.count}`] : [],
      );
    expect(counted(RIGHT)).toEqual([]);
    expect(counted([...RIGHT, 110])).toEqual(['fault right 17']);
    expect(counted(RIGHT.slice(1))).toEqual(['note right 15']);
    expect(checkSheet(sheet({ right: RIGHT.slice(1) })).findings).toEqual([]);
  });

  it('explains a mean that does not follow where it is another figure of the same table', () => {
    const finding = (value: number) => checkSheet(sheet({ claims: [claim({ value, decimals: 2 })] })).findings.at(-1);
    expect(finding(Number(mean(LEFT).toFixed(2)))).toMatchObject({ kind: 'meanDoesNotFollow', explains: 'otherSide' });
    expect(finding(Number(mean([...LEFT, ...RIGHT]).toFixed(2)))).toMatchObject({
      kind: 'meanDoesNotFollow',
      explains: 'bothSides',
    });
    expect(finding(99)).not.toHaveProperty('explains');
  });

  it('lists what is not said, and spokes beyond the limit, and an unusual limit', () => {
    const check = checkSheet(sheet({ states: ['method'], limits: { maximum: 113, unit: 'kgf' } }), spokes);
    expect(check.lacks).toEqual(NEEDED_STATEMENTS.filter((one) => !['method', 'unit', 'limit'].includes(one)));
    expect(check.findings.filter((one) => one.kind === 'beyondLimit')).toHaveLength(
      RIGHT.filter((value) => value > 113).length,
    );
    const unusual = checkSheet(sheet({ limits: { maximum: 150, unit: 'kgf' } }));
    expect(unusual.findings.some((one) => one.kind === 'unusualLimit')).toBe(true);
  });

  it('tries every unit that the table may be in against the limits', () => {
    const [right, left] = [RIGHT.map((value) => value + 20), LEFT.map((value) => value + 10)];
    const open = sheet({ left, right, unit: undefined as never, limits: { maximum: 120, unit: 'kgf' } });
    expect(checkSheet(open, spokes).findings[0]).toEqual({
      severity: 'fault',
      kind: 'unitMissing',
      plausible: ['kgf', 'lbf'],
      beyond: [
        ['kgf', RIGHT.length],
        ['lbf', 0],
      ],
    });
  });

  it('takes limits without a unit in the table’s own, stated or found', () => {
    const beyond = (change: Partial<Sheet>) =>
      checkSheet(sheet(change)).findings.filter((one) => one.kind === 'beyondLimit').length;
    const count = RIGHT.filter((value) => value > 113).length;
    expect(beyond({ limits: { maximum: 113 } })).toBe(count);
    expect(beyond({ limits: { maximum: 113 }, unit: undefined as never })).toBe(count);
    expect(faults(sheet({ limits: { maximum: 113 }, unit: undefined as never }))).toEqual(['unitMissing']);
  });

  it('never blames a mean or a spread that was rounded from the table itself', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 80, max: 130 }), { minLength: 4, maxLength: 18 }),
        fc.constantFrom(0, 1, 2),
        (values, decimals) => {
          const rounded = (value: number) => Number(value.toFixed(decimals));
          const claims = [
            claim({ value: rounded(mean(values)), decimals }),
            ...spreadValues(values).map(({ percent }) =>
              claim({ what: 'spread', percent: true, value: rounded(percent), decimals }),
            ),
          ];
          const { findings } = checkSheet(sheet({ left: [], right: values, claims }));
          expect(findings.filter((one) => one.severity === 'fault')).toEqual([]);
        },
      ),
    );
  });
});

describe('the definitions of spread', () => {
  it('agree with a statistics library', () => {
    const by = new Map(spreadValues(RIGHT).map((one) => [one.definition, one]));
    expect(by.get('sampleSd')?.absolute).toBeCloseTo(sampleStandardDeviation(RIGHT), 12);
    expect(by.get('populationSd')?.absolute).toBeCloseTo(standardDeviation(RIGHT), 12);
    expect(by.get('range')?.absolute).toBe(8);
    expect(by.get('rangeOverHighest')?.percent).toBeCloseTo(800 / 114, 12);
  });
});

describe('the tones on a sheet', () => {
  const described = describeMember(wheel, 1);
  if (!described.ok) throw new Error(described.reason);
  const { member } = described.described;
  const end = newtonMetresPerRadian(20);
  const ends = { hub: { inPlane: end, across: end }, rim: { inPlane: end, across: end } };
  const rigid = { kind: 'support', stiffness: newtonsPerMetre(Number.POSITIVE_INFINITY) } as const;
  const tonesAt = (tension: number) => modes(member, newtons(tension), ends, 'inPlane', rigid, 3) as readonly number[];

  it('go through the full member, and the string formula is recognised where the author used it', () => {
    const tensions = [1000, 1040, 960, 1010];
    const right = tensions.map(tonesAt);
    const asString = right.map(([first = 0]) => stringTensions(member, hertz(first)).free as number);
    const one = sheet({ left: [], right: asString, decimals: 3, unit: 'N', tonesHz: { left: [], right } });
    const { rows, findings } = sheetTones(one, wheel, rememberPrepared(prepareMember), 'N');
    expect(rows).toHaveLength(4);
    for (const [i, row] of rows.entries()) {
      if (!row.member.ok) throw new Error(row.member.reason);
      const u = Math.hypot(row.member.uOwnN, row.member.uCommonN);
      expect(Math.abs(row.member.tensionN - (tensions[i] ?? 0))).toBeLessThan(3 * u);
      // The string reads stiff ends as tension.
      expect(row.stringFreeN).toBeGreaterThan(row.member.tensionN);
    }
    expect(findings.map((finding) => finding.kind === 'tonesContradict' && finding.stringExplains)).toEqual([
      true,
      true,
      true,
      true,
    ]);
  });

  it('several a spoke tell more than one: the member’s interval shrinks, and still holds the truth', {
    timeout: 60_000,
  }, () => {
    const tensions = [1000, 1040, 960, 1010, 990, 1025];
    const half = (count: number) => {
      const lines = tensions.map(
        (tension) =>
          `R;${tension};${tonesAt(tension)
            .slice(0, count)
            .map((tone) => tone.toFixed(1))
            .join(';')}`,
      );
      const names = Array.from({ length: count }, (_, i) => `tone ${i + 1} Hz`);
      const table = readSheet([['side', 'N', ...names].join(';'), ...lines].join('\n'));
      if (!table.ok || !table.tonesHz) throw new Error(JSON.stringify(table.problems));
      const one = sheet({ left: [], right: table.right, unit: 'N', tonesHz: table.tonesHz });
      const { rows, findings } = sheetTones(one, wheel, rememberPrepared(prepareMember), 'N');
      expect(findings.filter((finding) => finding.severity === 'fault')).toEqual([]);
      return rows.map(({ member: read, tonesHz }, i) => {
        if (!read.ok) throw new Error(read.reason);
        expect(tonesHz).toHaveLength(count);
        const u = Math.hypot(read.uOwnN, read.uCommonN);
        expect(Math.abs(read.tensionN - (tensions[i] ?? 0))).toBeLessThan(3 * u);
        return u;
      });
    };
    const [single, triple] = [half(1), half(3)];
    for (const [i, u] of triple.entries()) expect(u).toBeLessThan(0.8 * (single[i] ?? 0));
  });

  it('that fit their tensions are not blamed', () => {
    const tensions = [1000, 1040, 960, 1010];
    const one = sheet({ left: [], right: tensions, unit: 'N', tonesHz: { left: [], right: tensions.map(tonesAt) } });
    expect(sheetTones(one, wheel, rememberPrepared(prepareMember), 'N').findings).toEqual([]);
  });
});

describe('a table by side', () => {
  it('is read by columns or by rows', () => {
    expect(readSheet('left (kgf);right (kgf)\n57,5;110\n56;112')).toMatchObject({
      ok: true,
      left: [57.5, 56],
      right: [110, 112],
      decimals: 1,
      unit: 'kgf',
    });
    expect(readSheet('1 L 57\n2 R 110\n3 L 56\n4 R 112')).toMatchObject({
      ok: true,
      left: [57, 56],
      right: [110, 112],
    });
  });

  it('without sides, or with words for figures, is refused by line', () => {
    expect(readSheet('57\n110').problems).toMatchObject([
      { line: 1, reason: 'noSides' },
      { line: 2, reason: 'noSides' },
    ]);
    expect(readSheet('left;right\n57;abc').problems).toMatchObject([{ line: 2, reason: 'notAFigure', detail: 'abc' }]);
  });
});
