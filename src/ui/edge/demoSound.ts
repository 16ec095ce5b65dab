import type { PlayedSound } from '../../audio/edge/playedSource.ts';
import { describeMember } from '../../spokes/describeMember.ts';
import { DEMO_RATE_HZ, type DemoWheel } from '../store/demoWheels.ts';
import { type DemoVoice, demoVoices } from './demoVoices.ts';

const FIRST_PLUCK_S = 0.8;
/** Between two plucks, at least: a brisk hand. */
const PLUCK_EVERY_S = 1.25;
/** Without an answer from the ear the hand tries again after this long. */
const PATIENCE_S = 3;
const LEVEL = 0.2;
/** Noise of a quiet workshop: about 25 dB under the plucks' first half second. */
const NOISE = 0.0035;
const NEIGHBOUR_GAIN = 10 ** (-30 / 20);
/** Supports as an invented wheel might have them, N·m/rad, each spoke a little different. */
const HUB_STIFFNESS = 9;
const RIM_STIFFNESS = 14;
const END_SCATTER = 0.12;

interface Ringing {
  re: number;
  im: number;
  readonly c: number;
  readonly s: number;
}

/**
 * The sound of a hand that plucks whichever spoke it is asked for, made from the exact model of each spoke: both planes, decays,
 * the click of the finger, two neighbours of the same side that answer, and a room's noise. The ear gets it as it would get a
 * microphone's.
 *
 * @param askSpoke the spoke to pluck now, from 1; undefined lets the hand wait
 * @param seed the same seed gives the same sound
 * @throws RangeError if the wheel is not described well enough to ring
 */
export function demoSound(demo: DemoWheel, askSpoke: () => number | undefined, seed: number): PlayedSound {
  const random = mulberry32(seed);
  const voicesOf = voiceBook(demo, random);
  const strings: Ringing[] = [];
  let at = 0;
  let nextPluck = Math.round(FIRST_PLUCK_S * DEMO_RATE_HZ);
  let click = 0;
  let pink = 0;

  const ring = (voices: readonly DemoVoice[], gain: number) => {
    for (const { frequencyHz, amplitude, decayS } of voices) {
      if (frequencyHz > 0.45 * DEMO_RATE_HZ) continue;
      const turn = (2 * Math.PI * frequencyHz) / DEMO_RATE_HZ;
      const fall = Math.exp(-1 / (decayS * DEMO_RATE_HZ));
      const phase = random() * 2 * Math.PI;
      const a = gain * amplitude;
      strings.push({
        re: a * Math.cos(phase),
        im: a * Math.sin(phase),
        c: fall * Math.cos(turn),
        s: fall * Math.sin(turn),
      });
    }
  };
  const pluck = (spoke: number) => {
    const place = 0.4 + 0.2 * random();
    const gain = LEVEL * (0.8 + 0.4 * random());
    ring(voicesOf(spoke, place), gain);
    for (const neighbour of neighboursOf(demo, spoke)) ring(voicesOf(neighbour, place), gain * NEIGHBOUR_GAIN);
    click = gain * 0.3;
    nextPluck = at + Math.round(PLUCK_EVERY_S * (1 + 0.06 * (random() - 0.5)) * DEMO_RATE_HZ);
  };

  return {
    sampleRateHz: DEMO_RATE_HZ,
    next: (into) => {
      if (at >= nextPluck) {
        const spoke = askSpoke();
        if (spoke !== undefined) pluck(spoke);
      }
      for (let i = 0; i < into.length; i++) {
        pink = 0.95 * pink + 0.05 * (2 * random() - 1);
        let sample = NOISE * (0.5 * (2 * random() - 1) + 2 * pink) + click * (2 * random() - 1);
        click *= 0.994;
        for (const string of strings) {
          sample += string.re;
          const re = string.re * string.c - string.im * string.s;
          string.im = string.re * string.s + string.im * string.c;
          string.re = re;
        }
        into[i] = sample;
      }
      for (let k = strings.length - 1; k >= 0; k--) {
        const string = strings[k];
        if (string && string.re ** 2 + string.im ** 2 < 1e-12) strings.splice(k, 1);
      }
      at += into.length;
      return into.length;
    },
  };
}

/** Gives the ear time to answer before the next pluck, but not for ever. */
export function patientHand(askSpoke: () => number | undefined, nowS: () => number) {
  let waitingSince: number | undefined;
  return {
    ask: (): number | undefined => {
      if (waitingSince !== undefined && nowS() - waitingSince < PATIENCE_S) return undefined;
      const spoke = askSpoke();
      if (spoke !== undefined) waitingSince = nowS();
      return spoke;
    },
    answered: () => {
      waitingSince = undefined;
    },
  };
}

/** Two spokes of the same side, the next and the one before. */
function neighboursOf(demo: DemoWheel, spoke: number): readonly number[] {
  const count = demo.tensionsN.length;
  return [spoke + 2, spoke - 2].map((number) => ((number - 1 + count) % count) + 1);
}

function voiceBook(demo: DemoWheel, random: () => number) {
  const ends = demo.tensionsN.map(() => ({
    hub: HUB_STIFFNESS * Math.exp(END_SCATTER * (random() + random() - 1) * 2),
    rim: RIM_STIFFNESS * Math.exp(END_SCATTER * (random() + random() - 1) * 2),
  }));
  return (spoke: number, place: number): readonly DemoVoice[] => {
    const described = describeMember(demo.wheel, spoke);
    const end = ends[spoke - 1];
    const tensionN = demo.tensionsN[spoke - 1];
    if (!described.ok || !end || tensionN === undefined)
      throw new RangeError(`demo spoke ${spoke} of ${demo.wheel.id}: expected a described spoke`);
    return demoVoices(described.described.member, tensionN, end.hub, end.rim, place);
  };
}

/** @source T. Ettinger, mulberry32 (2017), public domain */
function mulberry32(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}
