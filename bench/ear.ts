/**
 * `npm run bench -- ear [tones spoiled strangers invariances cost] [--quick | --medium | --full] [--plucks N] [--seed TEXT]`: the ear on
 * simulated plucks and strangers, beside general pitch trackers on the same sounds and the Cramér–Rao bound. Plucks a row: 40 quick, 100
 * medium, 200, or 2000 full. A spoke takes 0.3 s to prepare and its eight plucks 0.6 s, its twenty spoiled ones 1 s: 2000 take some
 * 75 minutes of one free core.
 */
import { pathToFileURL } from 'node:url';
import { createEar } from '../src/audio/createEar.ts';
import { findOnsets } from '../src/audio/findOnsets.ts';
import { hertz } from '../src/units.ts';
import { drawSpoke } from '../test/signals/catalogue.ts';
import { nonSpokeSet } from '../test/signals/nonSpokes.ts';
import type { SimulatedPluck } from '../test/signals/pluck.ts';
import { fullSet, singleSet } from '../test/signals/pluckSets.ts';
import { seededRandom } from '../test/signals/random.ts';
import { firstTones } from './earFirstTone.ts';
import { spoiledPlucks } from './earSpoiled.ts';
import { cents, describedLadder, hearPluck, isMarked, line, listen, nearestTone } from './earTrial.ts';
import { quantile } from './tables.ts';

const argument = (name: string) => process.argv.includes(name);
const textAfter = (name: string) => (argument(name) ? process.argv[process.argv.indexOf(name) + 1] : undefined);
const plucksARow = () =>
  Number(
    textAfter('--plucks') ?? (argument('--full') ? 2000 : argument('--quick') ? 40 : argument('--medium') ? 100 : 200),
  );
const seed = textAfter('--seed') ?? 'bench';
const TABLES = {
  tones: () => firstTones(seed, plucksARow()),
  spoiled: () => spoiledPlucks(seed, plucksARow()),
  strangers: () => strangers(argument('--quick') ? 68 : 500),
  invariances: () => invariances(),
  cost: () => cost(),
} as const;

/** Prints the tables asked for by name, or all. */
export async function benchEar(): Promise<void> {
  console.log(`${plucksARow()} plucks a row; gross: first tone off by more than 3 %`);
  const names = Object.keys(TABLES) as (keyof typeof TABLES)[];
  const asked = names.filter(argument);
  for (const name of asked.length > 0 ? asked : names) TABLES[name]();
}

/** Sounds that are no spokes, with some member described: how many come out as a spoke, and how many unmarked. */
function strangers(n: number) {
  console.log('\nsounds that are no spokes, some member described');
  line('', 'sounds', 'answered', 'unmarked');
  const ladders = Array.from({ length: 12 }, (_, i) =>
    describedLadder(drawSpoke(seededRandom(`any${i}`)).spoke, `any${i}`),
  );
  const rows = new Map<string, [number, number, number]>();
  const total: [number, number, number] = [0, 0, 0];
  let i = 0;
  for (const sound of nonSpokeSet(seed, n)) {
    const row = rows.get(sound.kind) ?? [0, 0, 0];
    rows.set(sound.kind, row);
    const heard = listen(sound.samples, sound.sampleRateHz, ladders[i++ % ladders.length]);
    const taken = heard.filter((h) => h.ok);
    for (const r of [row, total]) {
      r[0]++;
      if (taken.length > 0) r[1]++;
      if (taken.some((h) => h.ok && !isMarked(h))) r[2]++;
    }
  }
  for (const [kind, row] of rows) line(`  ${kind}`, ...row);
  line('  all', ...total);
}

/** The same pluck at other levels and rates, and without noise: largest change and bias of the loudest tone. */
function invariances() {
  console.log('\ninvariance of the loudest own tone, cents');
  line('', 'plucks', 'median', 'largest');
  const loudest = (pluck: SimulatedPluck, scale = 1) => {
    const heard = hearPluck(pluck, scale);
    const t = pluck.truth.tones.reduce((a, b) => (b.levelDb > a.levelDb ? b : a));
    return heard.ok ? (nearestTone(heard, [t])?.tone.frequencyHz ?? 0) / t.frequencyHz : undefined;
  };
  const row = (name: string, changes: (number | undefined)[]) => {
    const known = changes.filter((c): c is number => c !== undefined);
    line(`  ${name}`, known.length, quantile(known, 0.5).toFixed(4), Math.max(...known).toFixed(4));
  };
  const plucks = [...singleSet('invariance', 30, 40, { peakDb: -6 })];
  const reference = plucks.map((p) => loudest(p));
  for (const dB of [-20, -50])
    row(
      `${dB} dB of level`,
      plucks.map((p, i) => difference(loudest(p, 10 ** (dB / 20)), reference[i])),
    );
  for (const rateHz of [16000, 32000, 44100, 96000, 192000])
    row(
      `${rateHz} Hz, no noise`,
      [...singleSet('rates', 20, Infinity, { rateHz })].map((p) => difference(loudest(p), 1)),
    );
  row(
    '48000 Hz, no noise',
    [...singleSet('bias', 60, Infinity)].map((p) => difference(loudest(p), 1)),
  );
}
const difference = (a: number | undefined, b: number | undefined) => (a && b ? cents(a, b) : undefined);

/** Processor time of a pluck after its onset, and of the onset stage. */
function cost() {
  console.log('\nprocessor time');
  const plucks = [...fullSet('cost', 40, 20), ...singleSet('cost', 40, 20)];
  const spent = (work: () => void) => {
    const from = process.cpuUsage();
    work();
    const used = process.cpuUsage(from);
    return (used.user + used.system) / 1000;
  };
  const judge = (p: SimulatedPluck) => hearPluck(p);
  for (const p of plucks) judge(p);
  const two = spent(() => plucks.slice(0, 40).forEach(judge)) / 40;
  const one = spent(() => plucks.slice(40).forEach(judge)) / 40;
  line('  a pluck, two planes', `${two.toFixed(1)} ms`);
  line('  a pluck, one plane', `${one.toFixed(1)} ms`);
  const noise = new Float32Array(48000 * 20).map((_, i) => 0.01 * Math.sin(i * i));
  const finder = findOnsets(48000);
  const onsetMs = spent(() => {
    for (let i = 0; i < noise.length; i += 128) finder.push(noise.subarray(i, i + 128), () => {});
  });
  line('  onset stage, of real time', `${(onsetMs / 200).toFixed(2)} %`);
  const ear = createEar({ sampleRateHz: hertz(48000), settings: { sampleRateHz: hertz(48000) } });
  const before = process.memoryUsage().heapUsed;
  for (let i = 0; i < noise.length; i += 2048) ear.push(noise.subarray(i, i + 2048));
  line('  heap after 20 s more', `${((process.memoryUsage().heapUsed - before) / 1e6).toFixed(1)} MB`);
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) await benchEar();
