/**
 * `npm run bench -- nonSpokes [--quick]`: sounds that are no spokes through ear and member, some wheel described; and beside them, in the same
 * run, what plucks of spokes lose to the judgement. "With confidence": the ear marks nothing, or a tension is stated to better than 15 %.
 */
import type { ExpectedAtTension, Heard, HearRefusal, How } from '../src/contract.ts';
import { expectedTones } from '../src/physics/expectedTones.ts';
import { measureSpoke } from '../src/physics/measureSpoke.ts';
import { type PreparedMember, prepareMember } from '../src/physics/prepareMember.ts';
import type { Kind } from '../test/signals/catalogue.ts';
import { drawWheel } from '../test/signals/drawWheel.ts';
import { furtherSet } from '../test/signals/furtherSounds.ts';
import { nonSpokeSet } from '../test/signals/nonSpokes.ts';
import type { SimulatedPluck } from '../test/signals/pluck.ts';
import { fullSet, singleSet } from '../test/signals/pluckSets.ts';
import { richSet } from '../test/signals/richPluck.ts';
import { STRESS_KINDS, stressSet } from '../test/signals/stressSet.ts';
import { describedLadder, isMarked, listen, listenToPluck } from './earTrial.ts';
import { describedOf } from './richTrial.ts';

interface DescribedWheel {
  readonly prepared: PreparedMember;
  readonly how: How;
  readonly ladder: readonly ExpectedAtTension[];
}
const WHEELS = 12;
const CONFIDENT = 0.15;
const line = (...cells: (string | number)[]) =>
  console.log(cells.map((c, i) => (i === 0 ? String(c).padEnd(34) : String(c).padStart(12))).join(' '));

export function benchNonSpokes(seed = 'bench'): void {
  const quick = process.argv.includes('--quick');
  const wheels = Array.from({ length: WHEELS }, (_, i) => wheelOf(i));
  console.log('sounds that are no spokes, some wheel described');
  line('', 'sounds', 'onsets', 'answered', 'unmarked', 'tension', 'U < 15 %', 'unmarked too');
  strangers('named kinds', nonSpokeSet(seed, quick ? 68 : 500), wheels);
  strangers('further kinds', furtherSet(seed, quick ? 30 : 100), wheels);
  console.log('\nplucks of the spoke described');
  line('', 'plucks', 'answered', 'unmarked');
  const n = quick ? 20 : 100;
  plucks('single, 25 dB', singleSet(seed, n, 25));
  plucks('full, 25 dB', fullSet(seed, n, 25));
  plucks('full, 10 dB', fullSet(seed, n, 10));
  plucks('rich, held, along, 20 dB', richSet(seed, n, 20));
  plucks('rich, held, across, 20 dB', richSet(seed, n, 20, { crossing: 'held', direction: 'across' }));
  plucks('rich, free, along, 20 dB', richSet(seed, n, 20, { crossing: 'free', direction: 'inPlane' }));
  const composite: readonly Kind[] = ['compositeRod', 'compositeBlade'];
  plucks('full, composite, 20 dB', fullSet(seed, n, 20, { kinds: composite }));
  plucks('rich, composite, 20 dB', richSet(seed, n, 20, { crossing: 'held', direction: 'inPlane' }, composite));
  for (const kind of STRESS_KINDS) plucks(`full, ${kind}, 25 dB`, stressSet(kind, seed, n));
}

function wheelOf(i: number): DescribedWheel {
  const wheel = drawWheel(1000 + i);
  const described = describedOf(wheel, 0);
  const crossed = described.member.crossingFromHub !== undefined;
  const how: How = { crossing: crossed ? 'held' : 'none', direction: 'inPlane' };
  const prepared = prepareMember(described);
  return { prepared, how, ladder: expectedTones(prepared, how) };
}

interface Sound {
  readonly kind: string;
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}
function strangers(title: string, sounds: Iterable<Sound>, wheels: readonly DescribedWheel[]): void {
  const rows = new Map<string, number[]>();
  const all = [0, 0, 0, 0, 0, 0, 0];
  let i = 0;
  for (const sound of sounds) {
    const wheel = wheels[i++ % wheels.length] as DescribedWheel;
    const row = rows.get(sound.kind) ?? all.map(() => 0);
    rows.set(sound.kind, row);
    const heard = listen(sound.samples, sound.sampleRateHz, wheel.ladder);
    const told = heard.map((h) => outcome(h, wheel));
    const any = (of: (t: Outcome) => boolean) => (told.some(of) ? 1 : 0);
    const counts = [
      1,
      heard.length,
      any((t) => t.answered),
      any((t) => t.answered && !t.marked),
      any((t) => t.u !== undefined),
      any((t) => (t.u ?? 1) < CONFIDENT),
      any((t) => (t.u ?? 1) < CONFIDENT && !t.marked),
    ];
    for (const r of [row, all]) for (const [k, c] of counts.entries()) r[k] = (r[k] as number) + c;
  }
  for (const [kind, row] of rows) line(`  ${kind}`, ...row);
  line(`  ${title}, all`, ...all);
}

interface Outcome {
  readonly answered: boolean;
  readonly marked: boolean;
  /** Expanded relative uncertainty of the tension, if there is one. */
  readonly u?: number;
}
function outcome(heard: Heard | HearRefusal, { prepared, how }: DescribedWheel): Outcome {
  if (!heard.ok) return { answered: false, marked: false };
  const { tones, covarianceHz2, hypotheses, flags } = heard;
  const reading = measureSpoke({
    id: 1,
    prepared,
    plucks: [{ tones, covarianceHz2, hypotheses, flags, how }],
    group: 'left',
  });
  const told = { answered: true, marked: isMarked(heard) };
  return reading.ok ? { ...told, u: (1.96 * Math.hypot(reading.uOwnN, reading.uCommonN)) / reading.tensionN } : told;
}

function plucks(title: string, set: Iterable<SimulatedPluck>): void {
  let count = 0;
  let answered = 0;
  let unmarked = 0;
  for (const pluck of set) {
    const heard = listenToPluck(pluck, describedLadder(pluck.truth.spoke, `${title}${count++}`));
    if (!heard?.ok) continue;
    answered++;
    if (!isMarked(heard)) unmarked++;
  }
  const percent = (part: number) => `${((100 * part) / Math.max(1, count)).toFixed(0)} %`;
  line(`  ${title}`, count, percent(answered), percent(unmarked));
}
