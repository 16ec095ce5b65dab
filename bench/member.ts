/**
 * The member's accuracy and speed as tables: `npx tsx bench/member.ts [--quick]`.
 *
 * Wheels come from the finite elements of test/signals (another equation solver, another catalogue): end springs 1–300 N·m/rad log-uniform
 * with 15 % scatter, mass 1 %, length 0.5 mm, crossing 1.5 mm and stiffness 3 % off, one draw a side. Nothing is asserted here.
 */
import { pathToFileURL } from 'node:url';
import type { How, MeasureRefusal, Reading, Tone } from '../src/contract.ts';
import { crossingSupport } from '../src/physics/crossingSupport.ts';
import { measureSpoke } from '../src/physics/measureSpoke.ts';
import { measureWheel } from '../src/physics/measureWheel.ts';
import type { Ends, Member, Section } from '../src/physics/member.ts';
import { modes } from '../src/physics/modes.ts';
import { type PreparedMember, prepareMember } from '../src/physics/prepareMember.ts';
import type { SpokeTones } from '../src/physics/spokeTones.ts';
import { tensionOf } from '../src/physics/tensionOf.ts';
import { weighNumberings } from '../src/physics/weighNumberings.ts';
import { hertz, metres, newtonMetresPerRadian, newtons, newtonsPerMetre } from '../src/units.ts';
import { type Kind, STEEL_KINDS } from '../test/signals/catalogue.ts';
import { seededRandom } from '../test/signals/random.ts';
import { limitsOf, quantileOfNormals } from './memberLimit.ts';
import { pluckOf, round, toneOf } from './memberTrial.ts';
import { describedOf, drawRichWheel, plainPluck, type RichWheel, richPluck } from './richTrial.ts';

const COMPOSITE: readonly Kind[] = ['compositeRod', 'compositeBlade'];
const METAL: readonly Kind[] = [...STEEL_KINDS, 'titanium2.0'];

const quantile = (values: readonly number[], p: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * p))] ?? Number.NaN;
};
const pc = (value: number, digits = 2): string => (100 * value).toFixed(digits);
const table = (title: string, head: readonly string[], rows: readonly (readonly string[])[]): void => {
  console.log(`\n${title}`);
  const width = head.map((h, i) => Math.max(h.length, ...rows.map((r) => (r[i] ?? '').length)));
  const line = (cells: readonly string[]): string =>
    cells.map((c, i) => (i === 0 ? c.padEnd(width[i] ?? 0) : c.padStart(width[i] ?? 0))).join('  ');
  console.log(line(head));
  for (const row of rows) console.log(line(row));
};

/** Errors and stated uncertainties of one way of measuring. */
class Score {
  private readonly errors: number[] = [];
  private readonly stated: number[] = [];
  private readonly within: number[] = [];
  private asked = 0;
  private covered = 0;
  private coveredWithin = 0;

  add(result: Reading | MeasureRefusal | undefined, truth: number): number | undefined {
    this.asked++;
    if (result === undefined || !result.ok) return undefined;
    const u = Math.hypot(result.uOwnN, result.uCommonN) / result.tensionN;
    return this.addError(Math.log(result.tensionN / truth), u);
  }
  addError(error: number, u: number): number {
    this.errors.push(Math.abs(error));
    this.stated.push(1.96 * u);
    if (Math.abs(error) < 1.96 * u) this.covered++;
    return error;
  }
  addBare(error: number): void {
    this.asked++;
    this.addError(error, 0);
  }
  addSide(errors: readonly number[], own: readonly number[]): void {
    if (errors.length < 4) return;
    const middle = quantile(errors, 0.5);
    errors.forEach((e, i) => {
      this.within.push(Math.abs(e - middle));
      if (Math.abs(e - middle) < 1.96 * (own[i] ?? 0)) this.coveredWithin++;
    });
  }
  static readonly HEAD = [
    '',
    'asked',
    'answered %',
    'median %',
    '95th %',
    'gross %',
    'covers %',
    'median U %',
    'in side 50th',
    '95th',
    'covers %',
  ];
  row(name: string, bare = false): string[] {
    const n = this.errors.length;
    const side = this.within.length;
    return [
      name,
      String(this.asked),
      pc(n / this.asked, 1),
      pc(quantile(this.errors, 0.5)),
      pc(quantile(this.errors, 0.95)),
      pc(this.errors.filter((e) => e > 0.15).length / n, 2),
      bare ? '–' : pc(this.covered / n, 1),
      bare ? '–' : pc(quantile(this.stated, 0.5), 1),
      side > 0 ? pc(quantile(this.within, 0.5)) : '–',
      side > 0 ? pc(quantile(this.within, 0.95)) : '–',
      side > 0 ? pc(this.coveredWithin / side, 1) : '–',
    ];
  }
}

interface Scene {
  readonly name: string;
  readonly kinds: readonly Kind[];
  readonly crossed?: boolean;
  readonly pluck: (rich: RichWheel, index: number, how: How & { direction: 'inPlane' }) => readonly (readonly Tone[])[];
  readonly known?: boolean;
}
const PLAIN_NOISE = 0.001;
const plain =
  (count: number): Scene['pluck'] =>
  (rich, index) => [plainPluck(rich, index, count, PLAIN_NOISE)];
const rich =
  (plucks: number): Scene['pluck'] =>
  (wheel, index, how) =>
    Array.from({ length: plucks }, (_, k) => richPluck(wheel, index, how, 0.0005, k));

const spokesOf = (wheel: RichWheel, scene: Scene): SpokeTones[] => {
  const crossed = wheel.wheel.spokes[0]?.crossingFromHubM !== undefined;
  const how = { crossing: crossed ? 'held' : 'none', direction: 'inPlane' } as const;
  const prepared = new Map<string, PreparedMember>();
  return wheel.wheel.spokes.map((spoke, i): SpokeTones => {
    const ready = prepared.get(spoke.side) ?? prepareMember(describedOf(wheel.wheel, i));
    prepared.set(spoke.side, ready);
    const plucks = scene.pluck(wheel, i, how).map((tones) => pluckOf(tones, how));
    const error = wheel.random.fork(`known${i}`).normal(0, 0.03);
    const known =
      scene.known === true && i === 0
        ? { known: { tension: newtons(spoke.tensionN * (1 + error)), u: newtons(0.03 * spoke.tensionN) } }
        : {};
    return { id: i, prepared: ready, plucks, group: spoke.side, ...known };
  });
};

const runScene = (scene: Scene, wheels: number): string[][] => {
  const alone = new Score();
  const joint = new Score();
  for (let seed = 0; seed < wheels; seed++) {
    const wheel = drawRichWheel(seed, scene.kinds, scene.crossed);
    const spokes = spokesOf(wheel, scene);
    if (scene.known !== true)
      spokes.forEach((spoke, i) => {
        if (i % 4 === 0) alone.add(measureSpoke(spoke), wheel.wheel.spokes[i]?.tensionN ?? Number.NaN);
      });
    const { readings } = measureWheel(spokes);
    for (const side of ['left', 'right']) {
      const errors: number[] = [];
      const own: number[] = [];
      wheel.wheel.spokes.forEach((spoke, i) => {
        if (spoke.side !== side) return;
        const reading = readings.get(i);
        const error = joint.add(reading, spoke.tensionN);
        if (error === undefined || reading?.ok !== true) return;
        errors.push(error);
        own.push(reading.uOwnN / reading.tensionN);
      });
      joint.addSide(errors, own);
    }
  }
  const rows = [joint.row(`${scene.name}, whole wheel`)];
  if (scene.known !== true) rows.unshift(alone.row(`${scene.name}, one spoke`));
  return rows;
};

/** The information limit of a plain scene, in the columns of `Score`. */
const limitRow = (name: string, kinds: readonly Kind[], tones: number, wheels: number): string[] => {
  const all = Array.from({ length: wheels }, (_, seed) => limitsOf(drawRichWheel(seed, kinds), tones, PLAIN_NOISE));
  const own = all.flatMap((limits) => limits.own);
  const whole = all.flatMap((limits) => limits.whole);
  const of = (sigmas: readonly number[], p: number): string => pc(quantileOfNormals(sigmas, p));
  const none = '–';
  const spokes = String(whole.length);
  return [name, spokes, none, of(whole, 0.5), of(whole, 0.95), none, none, none, of(own, 0.5), of(own, 0.95), none];
};

/** What simpler ways would say of the lowest tone heard, taken for the first of the right length. */
const references = (kinds: readonly Kind[], wheels: number): string[][] => {
  const ways = [
    'ideal string, full length',
    'ideal string, free length',
    'first-order stiff string, clamped',
    'full model, ends halfway',
    'this model',
  ] as const;
  const scores = new Map(ways.map((way) => [way, new Score()]));
  for (let seed = 0; seed < wheels; seed++) {
    const wheel = drawRichWheel(seed, kinds);
    const spokes = spokesOf(wheel, { name: '', kinds, pluck: plain(4) });
    const { readings } = measureWheel(spokes);
    spokes.forEach((spoke, i) => {
      const truth = wheel.wheel.spokes[i]?.tensionN ?? Number.NaN;
      const f = spoke.plucks[0]?.tones[0]?.frequencyHz ?? Number.NaN;
      const { member } = spoke.prepared.described;
      const put = (way: (typeof ways)[number], tension: number): void =>
        scores.get(way)?.addBare(Math.log(tension / truth));
      const total = member.sections.reduce((sum, s) => sum + s.length, 0);
      const free = total - (member.crossingFromHub ?? 0);
      const { mass, bending } = ringing(member);
      put('ideal string, full length', 4 * mass * (total * f) ** 2);
      put('ideal string, free length', 4 * mass * (free * f) ** 2);
      put('first-order stiff string, clamped', stiffString(f, mass, bending, free));
      put('full model, ends halfway', halfway(member, f, truth));
      scores.get('this model')?.add(readings.get(i), truth);
    });
  }
  return ways.map((way) => (scores.get(way) as Score).row(way, way !== 'this model'));
};
/** Mean mass and bending of the part that rings. */
const ringing = (member: Member): { mass: number; bending: number } => {
  let at = 0;
  let length = 0;
  let mass = 0;
  let flexibility = 0;
  for (const s of member.sections) {
    const inside = Math.max(at + s.length - Math.max(at, member.crossingFromHub ?? 0), 0);
    at += s.length;
    length += inside;
    mass += inside * s.massPerLength;
    flexibility += inside / s.bendingInPlane;
  }
  return { mass: mass / length, bending: length / flexibility };
};
/** f1 = f0 (1 + 2/ξ), clamped ends, solved for tension. @source Fletcher, J. Acoust. Soc. Am. 36 (1964), 203 */
const stiffString = (f: number, mass: number, bending: number, length: number): number => {
  let tension = 4 * mass * (length * f) ** 2;
  for (let i = 0; i < 60; i++) {
    const xi = length * Math.sqrt(tension / bending);
    tension = 0.5 * tension + 0.5 * 4 * mass * ((length * f) / (1 + 2 / xi)) ** 2;
  }
  return tension;
};
/** Exact inversion with ends of clampedness ½ at an ordinary tension: what a good model does without partials. */
const halfway = (member: Member, f: number, fallback: number): number => {
  const longest = member.sections.reduce((a, b) => (b.length > a.length ? b : a), member.sections[0] as Section);
  const k = newtonMetresPerRadian(Math.sqrt(900 * longest.bendingInPlane));
  const ends: Ends = { hub: { inPlane: k, across: k }, rim: { inPlane: k, across: k } };
  const crossing =
    member.crossingFromHub === undefined
      ? ({ kind: 'none' } as const)
      : ({ kind: 'support', stiffness: newtonsPerMetre(crossingSupport(member)) } as const);
  const result = tensionOf(member, hertz(f), 1, ends, 'inPlane', crossing);
  return result.ok ? Math.max(result.tension, 1) : fallback * 0.1;
};

/** Three of the lowest five partials and two strangers: right, refused or wrong. */
const missingPartials = (runs: number): string[][] => {
  const random = seededRandom('bench missing');
  const member: Member = {
    sections: [round(0.02, 0.002, 193e9, 7900), round(0.23, 0.0018, 193e9, 7900), round(0.03, 0.002, 193e9, 7900)],
  };
  const prepared = prepareMember({
    member,
    uncertainty: { massRelative: 0.01, length: metres(0.0005), crossing: metres(0.0015), stiffnessRelative: 0.03 },
  });
  let refused = 0;
  let wrong = 0;
  let notBest = 0;
  for (let i = 0; i < runs; i++) {
    const tension = random.uniform(200, 1400);
    const end = () => {
      const k = newtonMetresPerRadian(random.logUniform(1, 300));
      return { inPlane: k, across: k };
    };
    const f = modes(member, newtons(tension), { hub: end(), rim: end() }, 'inPlane', { kind: 'none' }, 5);
    const kept = f.map((v, n) => ({ v: v as number, n }));
    kept.splice(random.integer(0, 4), 1);
    kept.splice(random.integer(0, 3), 1);
    const tones = kept.map(({ v }) =>
      toneOf(v * (1 + random.normal(0, 0.0005)), v * 0.0005, -20 - random.uniform(0, 12)),
    );
    for (let s = 0; s < 2; s++) {
      const v = random.uniform(150, 2600);
      tones.push(toneOf(v, v * 0.0005, -20 - random.uniform(3, 15)));
    }
    const how = { crossing: 'none', direction: 'inPlane' } as const;
    const spoke: SpokeTones = { id: 0, prepared, plucks: [pluckOf(tones, how)], group: 'bench' };
    const result = measureSpoke(spoke);
    const { weighed } = weighNumberings(spoke);
    const best = weighed[0];
    if (best !== undefined && weighed.some((w) => w.lnEvidence > best.lnEvidence)) notBest++;
    if (!result.ok) {
      refused++;
      continue;
    }
    const right = kept.every(({ v, n }) =>
      result.assignment.some((a) => Math.abs(a.frequencyHz / v - 1) < 0.003 && (a.mode === n + 1 || a.mode === 0)),
    );
    if (!right) wrong++;
  }
  return [
    [
      'three of five partials, two strangers',
      String(runs),
      pc(1 - refused / runs, 1),
      pc(1 - wrong / Math.max(runs - refused, 1), 2),
      String(notBest),
    ],
  ];
};

const roundTrips = (runs: number): number => {
  const random = seededRandom('bench inversion');
  let worst = 0;
  for (let i = 0; i < runs; i++) {
    const sections = Array.from({ length: random.integer(1, 4) }, () =>
      round(random.uniform(0.04, 0.09), random.uniform(0.0014, 0.0032), 193e9, 7900),
    );
    const length = sections.reduce((sum, s) => sum + s.length, 0);
    const held = random.chance(0.5);
    const member: Member = {
      sections,
      ...(held ? { crossingFromHub: metres(length * random.uniform(0.15, 0.45)) } : {}),
    };
    const crossing = held
      ? ({ kind: 'support', stiffness: newtonsPerMetre(random.logUniform(1e5, 1e8)) } as const)
      : ({ kind: 'none' } as const);
    const end = () => {
      const k = newtonMetresPerRadian(random.logUniform(0.1, 500));
      return { inPlane: k, across: k };
    };
    const ends = { hub: end(), rim: end() };
    const tension = random.logUniform(20, 3000);
    const mode = random.integer(1, 4);
    const f = modes(member, newtons(tension), ends, 'inPlane', crossing, mode)[mode - 1];
    if (f === undefined) continue;
    const back = tensionOf(member, f, mode, ends, 'inPlane', crossing);
    worst = Math.max(worst, back.ok ? Math.abs(back.tension / tension - 1) : 1);
  }
  return worst;
};

/** One unit of the reference loop: a million fused multiply-adds in plain numbers, ms. */
const referenceLoop = (): number => {
  const start = performance.now();
  let x = 0.5;
  for (let i = 0; i < 1_000_000; i++) x = x * 0.999999 + 1e-7;
  if (x > 2) console.log(x);
  return performance.now() - start;
};
const best = (times: number, work: () => void): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
};
const speed = (): string[][] => {
  let reference = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 15; i++) reference = Math.min(reference, referenceLoop());
  const member: Member = {
    sections: [0.002, 0.0018, 0.0018, 0.002, 0.0023].map((d, i) =>
      round([0.02, 0.06, 0.17, 0.03, 0.012][i] ?? 0.02, d, 193e9, 7900),
    ),
    crossingFromHub: metres(0.072),
  };
  const k = newtonMetresPerRadian(20);
  const ends = { hub: { inPlane: k, across: k }, rim: { inPlane: k, across: k } };
  const support = { kind: 'support', stiffness: newtonsPerMetre(3e6) } as const;
  let tension = 300;
  const modesMs = best(20, () => {
    for (let i = 0; i < 100; i++) {
      tension += 0.1;
      modes(member, newtons(tension), ends, 'inPlane', support, 6);
    }
  });
  const described = {
    member,
    uncertainty: { massRelative: 0.01, length: metres(0.0005), crossing: metres(0.0015), stiffnessRelative: 0.03 },
  };
  const prepareMs = best(5, () => {
    prepareMember(described);
  });
  const { crossingFromHub: _, ...uncrossed } = member;
  const radialMs = best(5, () => {
    prepareMember({ ...described, member: uncrossed });
  });
  const scenes = [true, false].map((crossed) => {
    const wheel = drawRichWheel(7, ['plain2.0'], crossed);
    const spokes = spokesOf(wheel, { name: '', kinds: METAL, crossed, pluck: rich(1) });
    const single = best(6, () => {
      for (const spoke of spokes) measureSpoke(spoke);
    });
    // 36 spokes: the wheel's own and the first ones once more.
    const many = Array.from({ length: 36 }, (_, i) => ({ ...(spokes[i % spokes.length] as SpokeTones), id: i }));
    const joint = best(4, () => {
      measureWheel(asNew(many));
    });
    let hertzMore = 0;
    const settled = best(4, () => {
      hertzMore += 1e-6;
      measureWheel([...many.slice(1), tuned(many[0] as SpokeTones, hertzMore)]);
    });
    return { single: single / spokes.length, joint, settled };
  });
  const row = (name: string, ms: number, target: string): string[] => [
    name,
    ms.toFixed(2),
    (ms / reference).toFixed(2),
    target,
  ];
  return [
    row('reference loop, 1e6 multiply-adds', reference, '–'),
    row('one mode, 5 sections and a crossing', modesMs / 600, '≤ 0.05 ms (20,000/s)'),
    row('prepare a crossed member', prepareMs, '≤ 500 ms'),
    row('prepare an uncrossed member', radialMs, '≤ 500 ms'),
    row('one inversion with its search, crossed', scenes[0]?.single ?? Number.NaN, '≤ 10 ms'),
    row('one inversion with its search, uncrossed', scenes[1]?.single ?? Number.NaN, '≤ 10 ms'),
    row('36 spokes jointly, all numbered anew, crossed', scenes[0]?.joint ?? Number.NaN, '≤ 200 ms'),
    row('36 spokes jointly, all numbered anew, uncrossed', scenes[1]?.joint ?? Number.NaN, '≤ 200 ms'),
    row('36 spokes jointly, one newly settled, crossed', scenes[0]?.settled ?? Number.NaN, '≤ 200 ms'),
    row('36 spokes jointly, one newly settled, uncrossed', scenes[1]?.settled ?? Number.NaN, '≤ 200 ms'),
  ];
};

/** The same spokes of members never seen before, so that nothing is remembered of them. */
const asNew = (spokes: readonly SpokeTones[]): SpokeTones[] => {
  const copies = new Map(spokes.map(({ prepared }) => [prepared, { ...prepared }]));
  return spokes.map((spoke) => ({ ...spoke, prepared: copies.get(spoke.prepared) ?? spoke.prepared }));
};
/** The same spoke heard once more: its first tone a little higher. */
const tuned = (spoke: SpokeTones, byHz: number): SpokeTones => ({
  ...spoke,
  plucks: spoke.plucks.map((pluck) => ({
    ...pluck,
    tones: pluck.tones.map((tone, i) => (i === 0 ? { ...tone, frequencyHz: hertz(tone.frequencyHz + byHz) } : tone)),
  })),
});

export const benchMember = async (): Promise<void> => {
  const quick = process.argv.includes('--quick');
  const wheels = quick ? 10 : 100;
  table('Speed, least of several runs', ['', 'ms', 'reference loops', 'aim'], speed());
  console.log(
    `\nTension → tone → tension, worst of ${quick ? 1000 : 10000} random members: ${roundTrips(quick ? 1000 : 10000).toExponential(1)}`,
  );
  const scenes: Scene[] = [
    { name: 'metal, tones 1–4, 0.1 % noise', kinds: METAL, pluck: plain(4) },
    { name: 'metal, tones 1–4, one spoke known to 3 %', kinds: METAL, pluck: plain(4), known: true },
    { name: 'metal, both planes, pair, rim, neighbours', kinds: METAL, pluck: rich(1) },
    { name: 'the same, three plucks at several places', kinds: METAL, pluck: rich(3) },
    { name: 'composite, tones 1–2', kinds: COMPOSITE, pluck: plain(2) },
    { name: 'composite, tones 1–2, one spoke known', kinds: COMPOSITE, pluck: plain(2), known: true },
    { name: 'composite, tones 1–4', kinds: COMPOSITE, pluck: plain(4) },
    { name: 'composite, both planes …, three plucks', kinds: COMPOSITE, pluck: rich(3) },
  ];
  table(
    `Accuracy on ${wheels} simulated wheels a line`,
    Score.HEAD,
    scenes.flatMap((scene) => runScene(scene, wheels)),
  );
  table('What the tones of the plain lines allow: exact model, every prior known, linear', Score.HEAD, [
    limitRow('metal, tones 1–4, 0.1 % noise', METAL, 4, wheels),
    limitRow('composite, tones 1–2', COMPOSITE, 2, wheels),
    limitRow('composite, tones 1–4', COMPOSITE, 4, wheels),
  ]);
  table('Simpler ways on the same metal wheels', Score.HEAD, references(METAL, wheels));
  table('Simpler ways on the same composite wheels', Score.HEAD, references(COMPOSITE, Math.ceil(wheels / 2)));
  table(
    'Numbering',
    ['', 'runs', 'answered %', 'right of answered %', 'best not found'],
    missingPartials(quick ? 200 : 2000),
  );
};

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) await benchMember();
