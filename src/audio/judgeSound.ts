import type { HearReason } from '../contract.ts';
import type { RefinedTone } from './tonesOfBand.ts';
import { type Evidence, type Trait, type Weighed, weighSound } from './weighSound.ts';

/** Below this the sound is not taken for the described spoke, nats. */
const LEAST = -3.5;
/** The same without a member, when nobody asks for a tension: an instrument's string may be heard, and its numbers are a guess anyway. */
const LEAST_UNDESCRIBED = -9;
/** Below this something else is as likely. */
const PERHAPS = 1;
/** From this on it is one beyond doubt. */
const CERTAIN = 1.5;

export interface Judgement {
  /** Why the sound is no plucked spoke; undefined where it may be one. */
  readonly reason: HearReason | undefined;
  /** Nothing else is nearly as likely. */
  readonly certain: boolean;
  /** Something else is about as likely, where a member is described. */
  readonly perhaps: boolean;
}

/**
 * Is a sound a plucked spoke?
 * Its traits are weighed as likelihoods against other things that make tones; the sum decides, and the trait that speaks most
 * against a spoke names what was heard instead.
 */
export function judgeSound(e: Evidence): Judgement {
  if (e.tones.length === 0) return { reason: withoutTones(e), certain: false, perhaps: true };
  const weighed = weighSound(e);
  const described = e.sets.some((set) => !set.guess);
  if (weighed.second) return { reason: 'twoSpokes', certain: false, perhaps: true };
  // Where the tones lie can make such an answer doubtful, not forbid it.
  const total = described ? weighed.total : weighed.total - Math.min(0, weighed.weights.place);
  if (total >= (described ? LEAST : LEAST_UNDESCRIBED)) {
    // One tone lies on some mode of the member at some tension, whatever made it; and what is struck starts and fades as what is plucked.
    const placed = weighed.lines > 1 && weighed.weights.place > 0;
    // What clips has tones of its own making: sums and multiples of the true ones, which only a member's ratios tell from modes.
    const certain = placed && weighed.total >= CERTAIN && (described || !e.clipped);
    return { reason: undefined, certain, perhaps: described && !(placed && weighed.total >= PERHAPS) };
  }
  return { reason: NAMES[worstOf(weighed, described)](e, weighed), certain: false, perhaps: true };
}

const withoutTones = ({ shape }: Evidence): HearReason =>
  shape.riseDb < 8 ? 'tooSoft' : shape.sustainDb < -15 ? 'knock' : 'muffled';

const worstOf = ({ weights }: Weighed, described: boolean): Trait =>
  (Object.keys(weights) as Trait[])
    .filter((trait) => described || trait !== 'place')
    .reduce((a, b) => (weights[b] < weights[a] ? b : a));

/** One or two tones may be any modes of the member. */
const FEWEST_LINES = 3;
const HIGH_HZ = 700;
const SQUEAK_HZ = 900;
const HUM_HZ = 260;
/** What breaks a trait most often. */
const NAMES: Readonly<Record<Trait, (e: Evidence, w: Weighed) => HearReason>> = {
  place: (e, w) => {
    if (w.stranger === 'string') return 'music';
    if (w.stranger === 'body') return loudestHz(e) > HIGH_HZ ? 'rotor' : 'knock';
    return w.lines < FEWEST_LINES ? 'firstToneMissing' : 'tonesContradict';
  },
  start: (e) => (e.misfit < 0.01 ? 'music' : loudestHz(e) > SQUEAK_HZ ? 'squeak' : 'speech'),
  click: () => 'music',
  quality: (e) => {
    const t = loudest(e.tones);
    if (Math.PI * t.frequencyHz * t.decayS < 150) return 'knock';
    return t.frequencyHz < HUM_HZ ? 'hum' : t.frequencyHz > HIGH_HZ ? 'rotor' : 'music';
  },
  fall: (e) => (loudestHz(e) < HUM_HZ ? 'hum' : 'music'),
  fit: ({ shape, ...e }) => {
    if (shape.attackS < 0.02 && shape.swellDb > 12) return shape.swellDb > 25 ? 'freehub' : 'hitTwice';
    return shape.attackS >= 0.03 && loudestHz(e) > SQUEAK_HZ ? 'squeak' : 'speech';
  },
  share: ({ shape }) => (shape.swellDb > 12 ? 'freehub' : 'knock'),
  before: ({ shape }) => (shape.swellDb > 12 ? 'freehub' : 'speech'),
};

const loudest = (tones: readonly RefinedTone[]): RefinedTone =>
  tones.reduce((a, b) => (b.amplitude ** 2 * b.decayS > a.amplitude ** 2 * a.decayS ? b : a));
const loudestHz = ({ tones }: Pick<Evidence, 'tones'>): number => loudest(tones).frequencyHz;
