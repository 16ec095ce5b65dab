import { describe, expect, it } from 'vitest';
import type { MeasureRefusal, Reading } from '../../src/contract.ts';
import { measureSpoke } from '../../src/physics/measureSpoke.ts';
import { measureWheel } from '../../src/physics/measureWheel.ts';
import type { Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import type { SpokeTones } from '../../src/physics/spokeTones.ts';
import { metres, newtons, newtonsPerMetre } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { described, ends, round, section } from './members.ts';
import { pluckOf, spokeOf, tonesOf, UNCROSSED } from './plucks.ts';

const percent = (value: number): number => value / 100;
const MEMBER: Member = { sections: [round(0.268, 0.002), round(0.012, 0.004, 97e9, 8500)] };
const PREPARED = prepareMember(described(MEMBER));

interface Simulated {
  readonly spokes: SpokeTones[];
  readonly tensions: number[];
}
/** A side of twelve; ends 12 and 30 N·m/rad with 15 % scatter, 0.05 % noise; spoke 4 is 35 % slack. */
const side = (
  seed: string,
  heavier = 1,
  more: (i: number, tension: number) => Partial<SpokeTones> = () => ({}),
): Simulated => {
  const random = seededRandom(seed);
  const truth: Member = {
    sections: MEMBER.sections.map((s) => ({
      ...s,
      massPerLength: (s.massPerLength * heavier) as typeof s.massPerLength,
    })),
  };
  const tensions = Array.from({ length: 12 }, (_, i) => 900 * (1 + random.normal(0, 0.05)) * (i === 4 ? 0.65 : 1));
  const spokes = tensions.map((tension, i) => {
    const e = ends(12 * Math.exp(random.normal(0, 0.15)), 30 * Math.exp(random.normal(0, 0.15)));
    const f = modes(truth, newtons(tension), e, 'inPlane', { kind: 'none' }, 4);
    const heard = tonesOf(f.map((v, n): [number, number] => [v * (1 + random.normal(0, 0.0005)), 3 * n]));
    return spokeOf(PREPARED, [pluckOf(heard, UNCROSSED)], { id: i + 1, ...more(i, tension) });
  });
  return { spokes, tensions };
};
const read = (result: Reading | MeasureRefusal | undefined): Reading => {
  if (result === undefined || !result.ok) throw new RangeError(`refused: ${result?.reason ?? 'absent'}`);
  return result;
};
const errorsOf = ({ spokes, tensions }: Simulated): number[] => {
  const { readings } = measureWheel(spokes);
  return tensions.map((t, i) => Math.log(read(readings.get(i + 1)).tensionN / t));
};

describe('a wheel at once', () => {
  it('is read from the first tone of each spoke alone, as wide as ends unknown leave it', () => {
    const { spokes, tensions } = side('first tones');
    const first = spokes.map((spoke) => ({
      ...spoke,
      plucks: spoke.plucks.map(({ tones }) => pluckOf(tones.slice(0, 1), UNCROSSED)),
    }));
    const { readings } = measureWheel(first);
    tensions.forEach((tension, i) => {
      const reading = read(readings.get(i + 1));
      const u = Math.hypot(reading.uOwnN, reading.uCommonN);
      expect(Math.abs(reading.tensionN - tension), `spoke ${i + 1}`).toBeLessThan(2 * u);
      expect(u / tension).toBeGreaterThan(percent(4));
    });
  });

  it('reads the same whether its spokes are new or were read before, and a spoke plucked again anew', () => {
    const { spokes } = side('twice');
    const anew = { ...PREPARED };
    const before = [...measureWheel(spokes).readings];
    expect([...measureWheel(spokes).readings]).toEqual(before);
    expect([...measureWheel(spokes.map((spoke) => ({ ...spoke, prepared: anew }))).readings]).toEqual(before);
    const again = side('twice, another pluck').spokes[0] as SpokeTones;
    const changed = [again, ...spokes.slice(1)];
    const { readings } = measureWheel(changed);
    const { readings: fresh } = measureWheel(changed.map((spoke) => ({ ...spoke, prepared: { ...PREPARED } })));
    expect([...readings]).toEqual([...fresh]);
    expect(read(readings.get(1)).tensionN).not.toBe(read(before[0]?.[1]).tensionN);
  });

  it('knows evenness within a side better than the common scale, and both are as good as stated', () => {
    const { spokes, tensions } = side('even');
    const { readings } = measureWheel(spokes);
    const list = tensions.map((_, i) => read(readings.get(i + 1)));
    const errors = errorsOf({ spokes, tensions });
    const middle = [...errors].sort((a, b) => a - b)[6] ?? 0;
    errors.forEach((e, i) => {
      const r = list[i] as Reading;
      expect(r.uOwnN).toBeLessThan(r.uCommonN);
      expect(Math.abs(e)).toBeLessThan((3 * Math.hypot(r.uOwnN, r.uCommonN)) / r.tensionN);
      expect(Math.abs(e - middle)).toBeLessThan((3.5 * r.uOwnN) / r.tensionN);
    });
    const spread = errors.map((e) => Math.abs(e - middle)).sort((a, b) => a - b);
    expect(spread[6]).toBeLessThan(percent(1));
  });
  it('fits spokes of a side jointly that differ a little in length and crossing', () => {
    const random = seededRandom('not quite alike');
    const tensions = Array.from({ length: 8 }, () => 900 * (1 + random.normal(0, 0.04)));
    const wire = (length: number): Member => ({
      sections: [round(length - 0.012, 0.002), round(0.012, 0.004, 97e9, 8500)],
      crossingFromHub: metres(0.0725 + (length - 0.28)),
    });
    const sideOf = (lengths: readonly number[]): SpokeTones[] =>
      tensions.map((tension, i) => {
        const member = wire(lengths[i] as number);
        const held = { kind: 'support', stiffness: newtonsPerMetre(2e6) } as const;
        const f = modes(member, newtons(tension), ends(12, 30), 'inPlane', held, 4);
        const heard = tonesOf(f.map((v, n): [number, number] => [v, 3 * n]));
        return spokeOf(prepareMember(described(member)), [pluckOf(heard, { crossing: 'held', direction: 'inPlane' })], {
          id: i + 1,
        });
      });
    const alike = measureWheel(sideOf(tensions.map(() => 0.28))).learned.get('left');
    const unlike = measureWheel(sideOf(tensions.map((_, i) => 0.279 + 0.0003 * i))).learned.get('left');
    expect(alike?.degreesOfFreedom).toBeGreaterThan(8);
    expect(unlike?.degreesOfFreedom).toBe(alike?.degreesOfFreedom);
  });
  it('numbers a doubtful spoke by its side: a touching partner’s tones are not its own', () => {
    const random = seededRandom('borrowed');
    const member: Member = { ...MEMBER, crossingFromHub: metres(0.075) };
    const prepared = prepareMember(described(member));
    const held = { kind: 'support', stiffness: newtonsPerMetre(1.2e6) } as const;
    const tensions = Array.from({ length: 10 }, () => 1000 * (1 + random.normal(0, 0.04)));
    const tonesAt = (tension: number): number[] => {
      const e = ends(6 * Math.exp(random.normal(0, 0.15)), 8 * Math.exp(random.normal(0, 0.15)));
      return modes(member, newtons(tension), e, 'inPlane', held, 3).map((f) => f * (1 + random.normal(0, 0.0003)));
    };
    const spokes = tensions.map((tension, i) => {
      const own = tonesAt(tension);
      // The last hears its own first tone, and of a partner 6 % tighter the third.
      const heard = own.map((f, n): [number, number] => [f, 5 * n]);
      const third = tonesAt(1.06 * tension)[2] as number;
      const borrowed: [number, number][] = [
        [own[0] as number, 0],
        [third, 14],
        [third * 1.0004, 20],
      ];
      return spokeOf(
        prepared,
        [pluckOf(tonesOf(i === 9 ? borrowed : heard), { crossing: 'held', direction: 'inPlane' })],
        { id: i + 1 },
      );
    });
    const { readings } = measureWheel(spokes);
    const errors = tensions.map((t, i) => Math.log(read(readings.get(i + 1)).tensionN / t));
    const middle = [...errors].sort((a, b) => a - b)[5] ?? 0;
    expect(Math.abs((errors[9] as number) - middle)).toBeLessThan(percent(2));
  });
  it('does not take spokes that are all alike for spokes with hinged ends', () => {
    // A composite rod with bonded ends: the member whose tones tell its ends least. Ends of every spoke the same to the last digit.
    const sleeve = (length: number) => section(length, 0.0323, 1.23, 1.23, 1.3e6);
    const rod: Member = { sections: [sleeve(0.03), section(0.19, 0.00828, 0.303, 0.303, 7.2e5), sleeve(0.03)] };
    const prepared = prepareMember(described(rod));
    for (const k of [14, 50]) {
      const random = seededRandom(`alike${k}`);
      const tensions = Array.from({ length: 12 }, () => 1000 * (1 + random.normal(0, 0.03)));
      const spokes = tensions.map((tension, i) => {
        const f = modes(rod, newtons(tension), ends(k, k), 'inPlane', { kind: 'none' }, 3);
        const heard = tonesOf(f.map((v, n): [number, number] => [v * (1 + random.normal(0, 0.001)), 3 * n]));
        return spokeOf(prepared, [pluckOf(heard, UNCROSSED)], { id: i + 1 });
      });
      const { readings } = measureWheel(spokes);
      tensions.forEach((tension, i) => {
        const reading = read(readings.get(i + 1));
        expect(Math.abs(reading.tensionN - tension)).toBeLessThan(2.5 * Math.hypot(reading.uOwnN, reading.uCommonN));
      });
    }
  });
  it('doubts a spoke whose every sound the ear doubted, unless its side bears it out', () => {
    const { spokes } = side('doubted');
    const doubted = (spoke: SpokeTones): SpokeTones => ({
      ...spoke,
      plucks: spoke.plucks.map((pluck) => ({ ...pluck, flags: ['perhapsNoSpoke'] })),
    });
    const u = (reading: Reading): number => Math.hypot(reading.uOwnN, reading.uCommonN) / reading.tensionN;
    const first = spokes[0] as SpokeTones;
    const alone = [read(measureSpoke(first)), read(measureSpoke(doubted(first)))] as const;
    // One chance in fifty that it is off by ln 0.7: 9.9 % beside what it was.
    expect(u(alone[1]) ** 2 - u(alone[0]) ** 2).toBeCloseTo(0.02 * 0.7 ** 2, 4);
    const company = measureWheel([doubted(first), ...spokes.slice(1)]).readings;
    expect(u(read(company.get(1)))).toBeLessThan(2 * u(read(company.get(2))));
    const slack = spokes[4] as SpokeTones;
    const odd = measureWheel(spokes.map((spoke) => (spoke === slack ? doubted(spoke) : spoke))).readings;
    expect(u(read(odd.get(5)))).toBeGreaterThan(0.099);
  });
  it('finds the slack spoke slack: it is not drawn to its side', () => {
    const { spokes, tensions } = side('slack');
    const { readings } = measureWheel(spokes);
    expect(Math.abs(read(readings.get(5)).tensionN / (tensions[4] as number) - 1)).toBeLessThan(percent(6));
  });
  it('does not shrink the uncertainty of mass: tones cannot tell the common scale', () => {
    const { learned } = measureWheel(side('mass').spokes);
    const mass = learned.get('left')?.massFactor;
    expect(mass?.u).toBeGreaterThan(0.9 * 0.01);
    expect(Math.abs((mass?.value ?? 0) - 1)).toBeLessThan(0.004);
  });
  it('reads a heavier wire low, unseen: its mass is believed', () => {
    const light = errorsOf(side('heavy'));
    const heavy = errorsOf(side('heavy', 1.02));
    const mean = light.reduce((sum, e, i) => sum + e - (heavy[i] as number), 0) / light.length;
    expect(mean).toBeGreaterThan(percent(0.7));
    expect(mean).toBeLessThan(percent(3));
  });
  it('says what it learned of the ends', () => {
    const learned = measureWheel(side('ends').spokes).learned.get('left');
    expect(learned?.contradiction).toBe(false);
    expect(learned?.degreesOfFreedom).toBeGreaterThan(20);
    for (const end of [learned?.hubEnd, learned?.rimEnd]) {
      expect(end?.value).toBeGreaterThan(0.05);
      expect(end?.value).toBeLessThan(0.97);
    }
  });
  it('weighs a known spoke in: the whole side becomes surer, and is not forced onto it', () => {
    const plain = measureWheel(side('known').spokes);
    const known = (i: number, tension: number): Partial<SpokeTones> =>
      i === 2 ? { known: { tension: newtons(tension * 1.02), u: newtons(tension * 0.02) } } : {};
    const helped = measureWheel(side('known', 1, known).spokes);
    const before = read(plain.readings.get(9));
    const after = read(helped.readings.get(9));
    expect(after.uCommonN).toBeLessThan(before.uCommonN);
    expect(helped.learned.get('left')?.contradiction).toBe(false);
  });
  it('calls out a calibration that contradicts the description', () => {
    const wrong = (i: number, tension: number): Partial<SpokeTones> =>
      i === 2 ? { known: { tension: newtons(tension * 1.4), u: newtons(tension * 0.01) } } : {};
    expect(measureWheel(side('wrong', 1, wrong).spokes).learned.get('left')?.contradiction).toBe(true);
  });
  it('takes mass from a spare spoke under known load, whose ends are its own', () => {
    const own = (k: number) => ({ low: ends(k * 0.95, 1).hub.inPlane, high: ends(k * 1.05, 1).hub.inPlane });
    const wire = (density: number): Member => ({ sections: [round(0.28, 0.002, 193e9, density)] });
    const spare = prepareMember({ ...described(wire(7900)), endPrior: { hub: own(40), rim: own(40) } });
    const loaded = [600, 800].map((load, k) => {
      const tones = modes(wire(7900 * 1.02), newtons(load), ends(40, 40), 'inPlane', { kind: 'none' }, 4);
      return spokeOf(spare, [pluckOf(tonesOf(tones.map((v, n): [number, number] => [v, 3 * n])), UNCROSSED)], {
        id: -1 - k,
        spare: true,
        known: { tension: newtons(load), u: newtons(load * 0.003) },
      });
    });
    const { spokes } = side('spare', 1.02);
    const without = measureWheel(spokes).learned.get('left')?.massFactor;
    const { learned, readings } = measureWheel([...spokes, ...loaded]);
    const mass = learned.get('left')?.massFactor;
    expect(mass?.u).toBeLessThan(0.8 * (without?.u ?? 0));
    expect(mass?.value).toBeGreaterThan(1.008);
    expect(readings.get(-1)?.ok).toBe(true);
  });
  it('reads one spoke alone like measureSpoke, and a spoke without tones as noTones', () => {
    const [first] = side('alone').spokes;
    if (first === undefined) throw new RangeError('no spoke');
    const alone = read(measureWheel([first]).readings.get(1));
    const single = read(measureSpoke(first));
    expect(Math.abs(alone.tensionN / single.tensionN - 1)).toBeLessThan(percent(0.5));
    const silent = measureWheel([{ ...first, plucks: [] }]).readings.get(1);
    expect(silent).toEqual({ ok: false, reason: 'noTones' });
  });
  it('uses what a wheel taught for one more spoke', () => {
    const { spokes, tensions } = side('learned');
    const learned = measureWheel(spokes.slice(1)).learned.get('left');
    const [first] = spokes;
    if (first === undefined || learned === undefined) throw new RangeError('nothing learned');
    const taught = read(measureSpoke(first, learned));
    const alone = read(measureSpoke(first));
    expect(Math.hypot(taught.uOwnN, taught.uCommonN)).toBeLessThan(Math.hypot(alone.uOwnN, alone.uCommonN));
    expect(Math.abs(taught.tensionN / (tensions[0] as number) - 1)).toBeLessThan(percent(6));
  });
});
