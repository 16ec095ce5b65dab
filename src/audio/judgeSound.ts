import type { HearReason } from '../contract.ts';
import type { Numbering } from './proposeModes.ts';
import type { SoundShape } from './soundShape.ts';
import type { RefinedTone } from './tonesOfBand.ts';

/** What the judgement rests on. */
export interface Evidence {
  readonly shape: SoundShape;
  /** Tones that came with the onset. */
  readonly tones: readonly RefinedTone[];
  /** Share of the loud bands that no damped tone accounts for. */
  readonly misfit: number;
  /** Power of the tones over the power of the sound, 30–150 ms after the onset. */
  readonly tonalShare: number;
  readonly best: Numbering | undefined;
  /** Was a member described? */
  readonly described: boolean;
}

/** More than this is no sum of damped tones: 98 % of simulated plucks are below 0.03, speech and rustle above 0.1. */
const MOST_MISFIT = 0.06;
const MOST_MISFIT_SURE = 0.2;
const LEAST_TONAL = 0.22;
/** Odds of 700 to 1 that the tones are the described member's, nats. */
const SURE_EVIDENCE = 6.5;
/** No spoke rings longer, s (quality 2000 at 400 Hz). */
const LONGEST_DECAY_S = 1.6;
/** Nor as short, where most of the energy is. */
const SHORTEST_DECAY_S = 0.016;
/** A start within so much of the level just after. */
const SHARP_DB = -7;
/** Numbering scores below which the tones are not those of the member, or of any spoke. */
const LEAST_SCORE = -0.35;
const LEAST_EXPLAINED = 0.25;
/** Tones placed as tones anywhere would be, with loud ones left over, nats. */
const LEAST_EVIDENCE = -20;

/**
 * Why a sound is not a plucked spoke; undefined where it may be one.
 * A plucked spoke starts at once, is a sum of damped tones and nothing else after the click, dies within a second or so, and
 * its loud tones lie where the member has some. Each rule names the kind of sound that breaks it most.
 */
export function judgeSound(e: Evidence): HearReason | undefined {
  const { shape } = e;
  const decayS = energyDecay(e.tones);
  if (e.tones.length === 0) {
    if (shape.riseDb < 8) return 'tooSoft';
    return shape.sustainDb < -15 ? 'knock' : 'muffled';
  }
  // Clicks and knocks beside a ring whose tones are certainly the member's do not spoil it.
  const sure = e.described && (e.best?.evidence ?? 0) >= SURE_EVIDENCE;
  if (e.misfit > (sure ? MOST_MISFIT_SURE : MOST_MISFIT)) return nameOfMisfit(e);
  if (e.tonalShare < LEAST_TONAL && !sure) return shape.swellDb > 12 ? 'freehub' : 'knock';
  // A gain control that climbs makes a ring long; then its start and its tones must speak for it.
  const plucked = shape.startDb > SHARP_DB && (e.best?.evidence ?? 0) > 2;
  if (decayS > LONGEST_DECAY_S && shape.sustainDb > -3 && !plucked)
    return loudest(e.tones).frequencyHz < 260 ? 'hum' : 'music';
  if (shape.attackS >= 0.05 && shape.sustainDb > -1 && e.misfit > 0.004) return 'music';
  if (decayS < SHORTEST_DECAY_S) return 'knock';
  const { best } = e;
  if (!best || best.score < LEAST_SCORE || best.explained < LEAST_EXPLAINED || best.evidence < LEAST_EVIDENCE)
    return nameOfStranger(e, decayS);
  return undefined;
}

/** Mean decay weighted with energy as heard 30 ms after the onset, s. */
function energyDecay(tones: readonly RefinedTone[]): number {
  let top = 0;
  let bottom = 0;
  for (const t of tones) {
    const energy = t.amplitude ** 2 * t.decayS * Math.exp(-0.06 / t.decayS);
    top += energy * t.decayS;
    bottom += energy;
  }
  return bottom > 0 ? top / bottom : 0;
}

const loudest = (tones: readonly RefinedTone[]): RefinedTone =>
  tones.reduce((a, b) => (b.amplitude ** 2 * b.decayS > a.amplitude ** 2 * a.decayS ? b : a));

function nameOfMisfit({ shape, tones }: Evidence): HearReason {
  if (shape.attackS < 0.02 && shape.swellDb > 12) return shape.swellDb > 25 ? 'freehub' : 'hitTwice';
  const f = loudest(tones).frequencyHz;
  if (shape.attackS >= 0.03 && f > 900) return 'squeak';
  return 'speech';
}

function nameOfStranger({ tones, described }: Evidence, decayS: number): HearReason {
  const f = loudest(tones).frequencyHz;
  // Quality above 1000 at a high tone: a plate of steel.
  if (f > 700 && Math.PI * f * decayS > 1000) return 'rotor';
  return described ? 'tonesContradict' : 'firstToneMissing';
}
