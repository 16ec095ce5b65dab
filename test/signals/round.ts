import { isComposite, type Kind } from './catalogue.ts';
import { addNoise, type NoiseColour } from './noise.ts';
import { addPartials, type Partial } from './partials.ts';
import { drawClick, trueTones, voiceOptionsFor } from './pluck.ts';
import { type Random, seededRandom } from './random.ts';
import { type RichHow, richVoices } from './richVoices.ts';
import { addBurst, addHum, highPass, lowPass, reverberate } from './room.ts';
import type { Spoke } from './spokeModes.ts';
import { stringPower, type TrueTone, type Voices, voices } from './voices.ts';
import { drawCharacter, type WheelCharacter } from './wheelCharacter.ts';

/** One spoke of a simulated wheel. */
export interface WheelSpoke extends Spoke {
  readonly side: 'left' | 'right';
  /** For its damping only; default plain2.0. */
  readonly kind?: Kind;
  /** Number (from 1) of the spoke that touches it at the crossing; style `rich` only. */
  readonly partner?: number;
}

export interface RoundSettings {
  readonly seed: string | number;
  /** In the order of the walk, spoke 1 first. */
  readonly spokes: readonly WheelSpoke[];
  /** `rich`: both planes, the touching pair, a rim with a mode of its own, room and microphone; see README.md. */
  readonly style: 'single' | 'full' | 'rich';
  /** How all spokes are plucked; style `rich` only. Default: crossings held, along the rim. */
  readonly how?: RichHow;
  /** Style `rich`: drawn from the seed when left out. */
  readonly character?: WheelCharacter;
  /**
   * String power over the first 0.5 s of a pluck over the noise power 20 Hz–24 kHz. Styles `single` and `full`: of every pluck;
   * `rich`: of the mean pluck, a person's strength varies by 3 dB and a dull spoke gives less.
   */
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
  /** Spokes (from 1) that are plucked at all; default every one. */
  readonly only?: readonly number[];
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
    if (settings.only && !settings.only.includes(spoke)) return;
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
  const composite = settings.spokes.some((s) => isComposite(s.kind ?? 'plain2.0'));
  const character = settings.character ?? drawCharacter(random.fork('character'), composite);
  const sounds = cues.map((cue, k) => pluckInRound(settings, cue, random.fork(`pluck${k}`), rateHz, character));
  const scale = 10 ** ((settings.peakDb ?? -9) / 20) / Math.max(1e-9, ...sounds.map((s) => s.peak));
  const rich = settings.style === 'rich';
  let power = 0;
  sounds.forEach((sound, k) => {
    const { timeS } = cues[k] as RoundCue;
    const own = sound.own.partials.map((p) => ({ ...p, amplitude: p.amplitude * scale }));
    const through = (hz: number): number => (rich ? microphoneGain(character, hz) : 1);
    const others = sound.others.map((p) => ({ ...p, amplitude: p.amplitude * scale }));
    sound.heard = own.map((p) => ({ ...p, amplitude: p.amplitude * through(p.frequencyHz) }));
    power += stringPower(sound.heard) / sounds.length;
    addPartials(out, rateHz, timeS, [...own, ...others]);
    addBurst(out, rateHz, timeS, { ...sound.click, peak: sound.click.peak * scale }, random.fork(`burst${k}`));
  });
  if (rich) {
    reverberate(out, rateHz, character.reverbS, character.wet, random.fork('room'));
    highPass(out, rateHz, character.microphoneLowHz);
    lowPass(out, rateHz, character.microphoneHighHz);
    addHum(out, rateHz, power * 10 ** (-random.fork('hum').uniform(25, 45) / 10), random.fork('hum2'));
  }
  const noisePower = settings.snrDb === Infinity ? 0 : power / 10 ** (settings.snrDb / 10);
  const colour = settings.noiseColour ?? 'pink';
  addNoise(out, rateHz, noisePower, colour, random.fork('noise'));
  return {
    samples: new Float32Array(out),
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
  random: Random,
  rateHz: number,
  character: WheelCharacter,
): RoundPluck {
  const spoke = settings.spokes[cue.spoke - 1] as WheelSpoke;
  const rich = settings.style === 'rich';
  const options = voiceOptionsFor(spoke.kind ?? 'plain2.0', rich ? 'full' : settings.style, rateHz);
  const partner = spoke.partner === undefined ? undefined : settings.spokes[spoke.partner - 1];
  const how = settings.how ?? { crossing: 'held', direction: 'inPlane' };
  const drawn = rich
    ? richVoices(random.fork('own'), spoke, partner, how, character, options.maximumHz)
    : voices(random.fork('own'), spoke, options);
  const strength = rich ? 10 ** (random.normal(0, 3) / 20) : 0.1 / Math.sqrt(stringPower(drawn.partials));
  const own = { ...drawn, partials: drawn.partials.map((p) => ({ ...p, amplitude: p.amplitude * strength })) };
  const others: Partial[] = [];
  if (settings.style !== 'single') {
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
  const click = drawClick(random.fork('click'), -24, -6);
  const peak = own.partials.reduce((sum, p) => sum + p.amplitude, 0);
  return { own, others, click: { ...click, peak: click.peak * strength }, peak, heard: [] };
}

/** Gain of the microphone's two second-order cuts. */
function microphoneGain(character: WheelCharacter, hz: number): number {
  const low = (hz / character.microphoneLowHz) ** 4;
  const high = (hz / character.microphoneHighHz) ** 4;
  return Math.sqrt(low / (1 + low) / (1 + high));
}
