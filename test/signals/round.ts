import type { Kind } from './catalogue.ts';
import { addNoise, type NoiseColour } from './noise.ts';
import { addPartials, type Partial } from './partials.ts';
import { trueTones, voiceOptionsFor } from './pluck.ts';
import { seededRandom } from './random.ts';
import { addBurst } from './room.ts';
import type { Spoke } from './spokeModes.ts';
import { stringPower, type TrueTone, type Voices, voices } from './voices.ts';

/** One spoke of a simulated wheel. */
export interface WheelSpoke extends Spoke {
  readonly side: 'left' | 'right';
  /** For its damping only; default plain2.0. */
  readonly kind?: Kind;
}

export interface RoundSettings {
  readonly seed: string | number;
  /** In the order of the walk, spoke 1 first. */
  readonly spokes: readonly WheelSpoke[];
  readonly style: 'single' | 'full';
  /** Mean string power over the first 0.5 s of a pluck over the noise power 20 Hz–24 kHz. */
  readonly snrDb: number;
  readonly rateHz?: number;
  readonly plucksPerSpoke?: number;
  /** Between plucks of one spoke. Default 1.2 s. */
  readonly pluckEveryS?: number;
  /** Between the last pluck of a spoke and the first of the next. Default 1.6 s. */
  readonly pauseBetweenSpokesS?: number;
  /** Relative unevenness (standard deviation) of both times. Default 0.03. */
  readonly unevenness?: number;
  /** Spokes (from 1) that get one pluck too many. */
  readonly extraPluckAt?: readonly number[];
  /** Spokes (from 1) that are passed over: the walk goes on at its pace without a pluck there. */
  readonly missedPluckAt?: readonly number[];
  readonly leadInS?: number;
  readonly tailS?: number;
  /** Peak of the loudest pluck, dB re full scale. Default −9. */
  readonly peakDb?: number;
  readonly noiseColour?: NoiseColour;
}
export interface RoundCue {
  /** The finger lets go. */
  readonly timeS: number;
  /** From 1. */
  readonly spoke: number;
}
export interface SimulatedRound {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  readonly cues: readonly RoundCue[];
  /** One a cue. */
  readonly truths: readonly {
    readonly spoke: number;
    readonly tensionN: number;
    readonly tones: readonly TrueTone[];
  }[];
  readonly noisePower: number;
}

/** When each pluck comes. */
export function walk(settings: RoundSettings, leadInS: number): RoundCue[] {
  const random = seededRandom(`walk|${settings.seed}`);
  const cues: RoundCue[] = [];
  const uneven = (s: number): number =>
    s * (1 + Math.max(-0.3, Math.min(0.3, random.normal(0, settings.unevenness ?? 0.03))));
  const every = settings.pluckEveryS ?? 1.2;
  const pause = settings.pauseBetweenSpokesS ?? 1.6;
  const pressed = settings.plucksPerSpoke ?? 2;
  let t = leadInS;
  settings.spokes.forEach((_, index) => {
    const spoke = index + 1;
    const missed = settings.missedPluckAt?.includes(spoke) ?? false;
    const plucks = missed ? 0 : pressed + (settings.extraPluckAt?.includes(spoke) ? 1 : 0);
    for (let k = 0; k < plucks; k++) {
      if (k > 0) t += uneven(every);
      cues.push({ timeS: t, spoke });
    }
    t += uneven(pause);
  });
  return cues;
}

/**
 * A whole walk round a wheel, one spoke after the other. Tails ring on into the next pluck; in style `full` the wheel's own other
 * spokes of the same side answer at −20 to −40 dB.
 */
export function simulateRound(settings: RoundSettings): SimulatedRound {
  const rateHz = settings.rateHz ?? 48000;
  const random = seededRandom(`round|${settings.seed}`);
  const cues = walk(settings, settings.leadInS ?? 0.8);
  const lastS = cues.at(-1)?.timeS ?? 0;
  const out = new Float64Array(Math.round((lastS + (settings.tailS ?? 1.6)) * rateHz));
  const sounds = cues.map((cue, k) => pluckInRound(settings, cue, random.fork(`pluck${k}`), rateHz));
  const scale = 10 ** ((settings.peakDb ?? -9) / 20) / Math.max(1e-9, ...sounds.map((s) => s.peak));
  let power = 0;
  sounds.forEach((sound, k) => {
    const { timeS } = cues[k] as RoundCue;
    const own = sound.own.partials.map((p) => ({ ...p, amplitude: p.amplitude * scale }));
    const others = sound.others.map((p) => ({ ...p, amplitude: p.amplitude * scale }));
    sound.heard = own;
    power += stringPower(own) / sounds.length;
    addPartials(out, rateHz, timeS, [...own, ...others]);
    addBurst(out, rateHz, timeS, { ...sound.click, peak: sound.click.peak * scale }, random.fork(`burst${k}`));
  });
  const noisePower = settings.snrDb === Infinity ? 0 : power / 10 ** (settings.snrDb / 10);
  const colour = settings.noiseColour ?? 'pink';
  addNoise(out, rateHz, noisePower, colour, random.fork('noise'));
  return {
    samples: Float32Array.from(out),
    sampleRateHz: rateHz,
    cues,
    truths: sounds.map((sound, k) => {
      const { spoke } = cues[k] as RoundCue;
      const { tensionN } = settings.spokes[spoke - 1] as WheelSpoke;
      return { spoke, tensionN, tones: trueTones(sound.own, sound.heard, noisePower, colour) };
    }),
    noisePower,
  };
}

interface RoundPluck {
  readonly own: Voices;
  readonly others: readonly Partial[];
  readonly click: { peak: number; decayS: number; lowHz: number; highHz: number };
  readonly peak: number;
  heard: readonly Partial[];
}

function pluckInRound(
  settings: RoundSettings,
  cue: RoundCue,
  random: ReturnType<typeof seededRandom>,
  rateHz: number,
): RoundPluck {
  const spoke = settings.spokes[cue.spoke - 1] as WheelSpoke;
  const options = voiceOptionsFor(spoke.kind ?? 'plain2.0', settings.style, rateHz);
  const strength = 10 ** (random.normal(0, 3) / 20);
  const drawn = voices(random.fork('own'), spoke, options);
  const own = { ...drawn, partials: drawn.partials.map((p) => ({ ...p, amplitude: p.amplitude * strength })) };
  const others: Partial[] = [];
  if (settings.style === 'full') {
    const side = random.fork('side');
    const same = settings.spokes.filter((s, k) => s.side === spoke.side && k !== cue.spoke - 1);
    for (let k = Math.min(same.length, side.integer(1, 3)); k > 0; k--) {
      const neighbour = side.pick(same);
      const gain = strength * 10 ** (side.uniform(-40, -20) / 20);
      const riseS = side.uniform(0.003, 0.03);
      for (const p of voices(side.fork(k), neighbour, { ...options, style: 'single' }).partials)
        others.push({ ...p, amplitude: p.amplitude * gain, riseS });
    }
  }
  const air = random.fork('click');
  const click = {
    peak: strength * 10 ** (air.uniform(-24, -6) / 20),
    decayS: air.uniform(0.002, 0.008),
    lowHz: air.logUniform(150, 800),
    highHz: air.logUniform(3000, 12000),
  };
  const peak = own.partials.reduce((sum, p) => sum + p.amplitude, 0);
  return { own, others, click, peak, heard: [] };
}
