/** One simulated pluck through the ear, and how far its answers lie from the truth. */
import { createEar } from '../src/audio/createEar.ts';
import { hear } from '../src/audio/hear.ts';
import { proposeModes } from '../src/audio/proposeModes.ts';
import type { ExpectedAtTension, Heard, HearRefusal, Tone } from '../src/contract.ts';
import { expectedTones } from '../src/physics/expectedTones.ts';
import { prepareMember } from '../src/physics/prepareMember.ts';
import { hertz, kilogramsPerMetre, metres, newtonMetresSquared, newtons } from '../src/units.ts';
import type { SimulatedPluck, TrueTone } from '../test/signals/pluck.ts';
import { seededRandom } from '../test/signals/random.ts';
import type { Spoke } from '../test/signals/spokeModes.ts';

/** A first tone farther off than 3 % is another one. */
export const GROSS_CENTS = 1200 * Math.log2(1.03);
export const percent = (part: number, whole: number): string => `${((100 * part) / Math.max(1, whole)).toFixed(1)} %`;
/** Prints one row of a table. */
export const line = (...cells: readonly (string | number)[]): void =>
  console.log(cells.map((c, i) => (i === 0 ? String(c).padEnd(30) : String(c).padStart(11))).join(' '));

export const cents = (a: number, b: number): number => Math.abs(1200 * Math.log2(a / b));

/** The ladder a person's description would give: mass good to 1 %, length to 0.2 %, crossing to 1.5 mm, ends unknown. */
export function describedLadder(spoke: Spoke, seed: string): ExpectedAtTension[] {
  const random = seededRandom(`described|${seed}`);
  const mass = 1 + random.normal(0, 0.01);
  const length = 1 + random.normal(0, 0.002);
  const crossing = spoke.crossingFromHubM;
  const prepared = prepareMember({
    member: {
      sections: spoke.pieces.map((p) => ({
        length: metres(p.lengthM * length),
        massPerLength: kilogramsPerMetre(p.massKgPerM * mass),
        bendingInPlane: newtonMetresSquared(p.bendingInPlane),
        bendingAcross: newtonMetresSquared(p.bendingAcross),
        axial: newtons(p.axialN),
        ...(p.shearN === undefined ? {} : { shear: newtons(p.shearN) }),
      })),
      ...(crossing === undefined ? {} : { crossingFromHub: metres(crossing + random.normal(0, 0.0015)) }),
    },
    uncertainty: { massRelative: 0.01, length: metres(5e-4), crossing: metres(1.5e-3), stiffnessRelative: 0.03 },
  });
  return expectedTones(prepared, { crossing: crossing === undefined ? 'none' : 'held', direction: 'inPlane' });
}

/** Everything the ear judged in a sound, in blocks of 2048 samples. */
export function listen(
  samples: Float32Array,
  sampleRateHz: number,
  expected?: readonly ExpectedAtTension[],
): (Heard | HearRefusal)[] {
  const rate = hertz(sampleRateHz);
  const ear = createEar({ sampleRateHz: rate, settings: { sampleRateHz: rate }, ...(expected ? { expected } : {}) });
  const heard: (Heard | HearRefusal)[] = [];
  const take = (events: ReturnType<typeof ear.push>) => {
    for (const e of events) if (e.kind === 'heard') heard.push(e.heard);
  };
  for (let i = 0; i < samples.length; i += 2048) take(ear.push(samples.subarray(i, i + 2048)));
  take(ear.end());
  return heard;
}

/** What was judged of the pluck itself: within 60 ms of its onset. */
export function listenToPluck(
  pluck: SimulatedPluck,
  expected?: readonly ExpectedAtTension[],
): Heard | HearRefusal | undefined {
  const near = listen(pluck.samples, pluck.sampleRateHz, expected).filter(
    (h) => Math.abs(h.onsetS - pluck.onsetS) < 0.06,
  );
  return near.find((h) => h.ok) ?? near[0];
}

const energyDb = (t: Tone) => t.levelDb + 10 * Math.log10(t.decayS);

interface FirstTone {
  readonly hz: number;
  /** Relative standard uncertainty where no tone was heard and the others imply it. */
  readonly impliedTo?: number;
}
/** First tone of the best numbering: the tone itself where it was heard, else what the others imply. */
function firstTone(heard: Heard, expected?: readonly ExpectedAtTension[]): FirstTone {
  const modes = heard.hypotheses[0]?.modes ?? [];
  const firsts = heard.tones.filter((_, i) => modes[i] === 1);
  if (firsts.length > 0) return { hz: firsts.reduce((a, b) => (energyDb(b) > energyDb(a) ? b : a)).frequencyHz };
  const proposed = proposeModes(
    heard.tones.map((t) => ({
      frequencyHz: t.frequencyHz,
      amplitude: 10 ** (t.levelDb / 20) * Math.exp(-0.03 / t.decayS) * Math.sqrt(t.decayS / 0.2),
      decayS: t.decayS,
      ...(t.pairId === undefined ? {} : { pairId: t.pairId }),
    })),
    expected,
  );
  const best = proposed.find((p) => p.modes.every((mode, i) => mode === modes[i])) ?? proposed[0];
  return best ? { hz: Math.exp(best.lnFirst), impliedTo: best.uFirst } : { hz: 0 };
}

const MARKS = ['numberingUncertain', 'crossCheckDisagrees', 'firstToneInferred'] as const;
export const isMarked = (heard: Heard): boolean => heard.flags.some((f) => (MARKS as readonly string[]).includes(f));

/** The fundamental and its doublet mate. */
export const trueFirsts = (pluck: SimulatedPluck): TrueTone[] =>
  pluck.truth.tones.filter((t) => t.family !== 'hub' && t.mode === 1);

/** First tones of a row of plucks. */
export interface FirstTally {
  answered: number;
  unmarked: number;
  gross: number;
  /** Of the gross ones. */
  marked: number;
  /** Of the gross ones: not heard but implied, and the truth within two of its own uncertainties. */
  impliedWithin: number;
  /** Of those that are not gross. */
  readonly offCents: number[];
}
export const noFirsts = (): FirstTally => ({
  answered: 0,
  unmarked: 0,
  gross: 0,
  marked: 0,
  impliedWithin: 0,
  offCents: [],
});

/** What was heard of a pluck, and whether its first tone is another one. */
export interface Listened {
  readonly heard: Heard | HearRefusal | undefined;
  readonly gross: boolean;
}

/** Listens to a pluck and counts its first tone. */
export function tallyFirst(
  tally: FirstTally,
  pluck: SimulatedPluck,
  expected?: readonly ExpectedAtTension[],
): Listened {
  const heard = listenToPluck(pluck, expected);
  if (!heard?.ok) return { heard, gross: false };
  const marked = isMarked(heard);
  tally.answered++;
  if (!marked) tally.unmarked++;
  const { hz, impliedTo } = firstTone(heard, expected);
  const off = Math.min(...trueFirsts(pluck).map((f) => cents(hz, f.frequencyHz)));
  if (off <= GROSS_CENTS) {
    tally.offCents.push(off);
    return { heard, gross: false };
  }
  tally.gross++;
  if (marked) tally.marked++;
  if (impliedTo !== undefined && (off * Math.LN2) / 1200 < 2 * impliedTo) tally.impliedWithin++;
  return { heard, gross: true };
}

/** The ear on a pluck whose onset is known; no member described. `scale` multiplies the samples. */
export function hearPluck(pluck: SimulatedPluck, scale = 1): Heard | HearRefusal {
  const rate = hertz(pluck.sampleRateHz);
  const samples = scale === 1 ? pluck.samples : pluck.samples.map((v) => v * scale);
  const onsetSample = Math.round(pluck.onsetS * rate);
  return hear(samples, { sampleRateHz: rate, onsetSample, settings: { sampleRateHz: rate } });
}

/** The tone nearest to a true one or, if allowed, to its mate; distance in cents and in standard uncertainties. */
export function nearestTone(
  heard: Heard,
  truths: readonly TrueTone[],
): { tone: Tone; cents: number; z: number } | undefined {
  let best: { tone: Tone; cents: number; z: number } | undefined;
  for (const tone of heard.tones)
    for (const t of truths) {
      const c = cents(tone.frequencyHz, t.frequencyHz);
      if (!best || c < best.cents) best = { tone, cents: c, z: Math.abs(tone.frequencyHz - t.frequencyHz) / tone.uHz };
    }
  return best;
}

/** Cramér–Rao bound of one damped tone's frequency, cents: σ_f = 1/(πτ)/√(2E/N₀). @source Yao and Pandit 1995 (damped), Rife and Boorstyn 1974 */
export const boundCents = (t: TrueTone): number =>
  (1200 / Math.LN2) * (1 / (Math.PI * t.decayS) / 10 ** (t.energySnrDb / 20) / t.frequencyHz);
