import { type DrawnSpoke, drawSpoke, isComposite, type Kind, scatterEnds } from './catalogue.ts';
import { addNoise, type NoiseColour, noiseDensity } from './noise.ts';
import { addPartials, type Partial } from './partials.ts';
import type { Random } from './random.ts';
import { addBurst, highPass } from './room.ts';
import type { Spoke } from './spokeModes.ts';
import { stringPower, type TrueTone, type VoiceOptions, type Voices, voices } from './voices.ts';

export type { TrueTone } from './voices.ts';

export interface PluckTruth {
  readonly spoke: Spoke;
  readonly kind: Kind;
  readonly tensionN: number;
  /** The spoke's own tones. */
  readonly tones: readonly TrueTone[];
  /** Other spokes that answer, each a comb of its own. */
  readonly neighbours: readonly { readonly tensionN: number; readonly levelDb: number; readonly firstHz: number }[];
  readonly inharmonicity: number;
  /** Mean square of the noise, 20 Hz–24 kHz, full scale 1. */
  readonly noisePower: number;
  readonly noiseColour: NoiseColour;
}
export interface SimulatedPluck {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  /** The finger lets go. */
  readonly onsetS: number;
  readonly truth: PluckTruth;
}

/** What may be set of one pluck; everything left out is drawn from the seed. */
export interface PluckSettings {
  readonly style: 'single' | 'full';
  /** String power over the first 0.5 s over noise power 20 Hz–24 kHz, dB; Infinity = no noise. */
  readonly snrDb: number;
  readonly rateHz?: number;
  readonly noiseColour?: NoiseColour;
  /** Peak of the sound, dB re full scale; default −30 to −6. */
  readonly peakDb?: number;
  readonly leadInS?: number;
  /** After the onset. */
  readonly durationS?: number;
  /** Level range of answering neighbours in `full`, dB re the spoke's loudest tone. */
  readonly neighbourDb?: readonly [number, number];
  /** 0 = no click of the finger; default 1. */
  readonly click?: number;
}

/** A pluck in the air: its partials (loudest own tone = 1), its click, its microphone cut. */
export interface PluckSound {
  readonly own: Voices;
  readonly others: readonly Partial[];
  readonly neighbours: PluckTruth['neighbours'];
  readonly click: { readonly peak: number; readonly decayS: number; readonly lowHz: number; readonly highHz: number };
}

export const voiceOptionsFor = (kind: Kind, style: 'single' | 'full', rateHz: number): VoiceOptions => ({
  style,
  quality: isComposite(kind) ? [80, 500] : [150, 2000],
  maximumHz: Math.min(12000, rateHz * 0.45),
});

/** Second-order high-pass, |H| at a frequency. */
const cutGain = (hz: number, cutHz: number): number =>
  cutHz === 0 ? 1 : (hz / cutHz) ** 2 / Math.sqrt(1 + (hz / cutHz) ** 4);

/** Draws one pluck of one spoke; `full` also draws 1–3 answering neighbours of the same kind at tensions of their own. */
export function composePluck(random: Random, drawn: DrawnSpoke, settings: PluckSettings, rateHz: number): PluckSound {
  const options = voiceOptionsFor(drawn.kind, settings.style, rateHz);
  const own = voices(random.fork('own'), drawn.spoke, options);
  const others: Partial[] = [];
  const neighbours: { tensionN: number; levelDb: number; firstHz: number }[] = [];
  if (settings.style === 'full') {
    const side = random.fork('side');
    const [low, high] = settings.neighbourDb ?? [-40, -20];
    for (let k = side.integer(1, 3); k > 0; k--) {
      const tensionN = drawn.spoke.tensionN * Math.exp(side.normal(0, 0.15));
      const ends = scatterEnds({ hub: drawn.spoke.hub, rim: drawn.spoke.rim }, 0.15, side);
      const levelDb = side.uniform(low, high);
      const comb = voices(side.fork(k), { ...drawn.spoke, ...ends, tensionN }, { ...options, style: 'single' });
      const riseS = side.uniform(0.003, 0.03);
      for (const p of comb.partials) others.push({ ...p, amplitude: p.amplitude * 10 ** (levelDb / 20), riseS });
      neighbours.push({ tensionN, levelDb, firstHz: comb.tones[0]?.frequencyHz ?? 0 });
    }
  }
  const drawnClick = drawClick(random.fork('click'), -24, settings.style === 'full' ? 0 : -8);
  const click = { ...drawnClick, peak: drawnClick.peak * (settings.click ?? 1) };
  return { own, others, neighbours, click };
}

/** The finger leaving the wire: a burst of 2–8 ms, its peak in dB re the loudest tone. */
export function drawClick(random: Random, lowDb: number, highDb: number): PluckSound['click'] {
  return {
    peak: 10 ** (random.uniform(lowDb, highDb) / 20),
    decayS: random.uniform(0.002, 0.008),
    lowHz: random.logUniform(150, 800),
    highHz: random.logUniform(3000, 12000),
  };
}

/** Simulates one pluck of a drawn spoke. */
export function simulatePluck(random: Random, drawn: DrawnSpoke, settings: PluckSettings): SimulatedPluck {
  const rateHz = settings.rateHz ?? 48000;
  const leadInS = settings.leadInS ?? random.uniform(0.28, 0.4);
  const seconds = leadInS + (settings.durationS ?? 1.1);
  const sound = composePluck(random.fork('sound'), drawn, settings, rateHz);
  const cutHz = settings.style === 'full' ? random.logUniform(20, 150) : 0;
  const out = new Float64Array(Math.round(seconds * rateHz));
  addPartials(out, rateHz, leadInS, [...sound.own.partials, ...sound.others]);
  addBurst(out, rateHz, leadInS, sound.click, random.fork('burst'));
  if (cutHz > 0) highPass(out, rateHz, cutHz);
  let peak = 0;
  for (let i = 0; i < out.length; i++) peak = Math.max(peak, Math.abs(out[i] as number));
  const scale = 10 ** ((settings.peakDb ?? random.uniform(-30, -6)) / 20) / (peak || 1);
  for (let i = 0; i < out.length; i++) out[i] = (out[i] as number) * scale;
  const heard = sound.own.partials.map((p) => ({
    ...p,
    amplitude: p.amplitude * scale * cutGain(p.frequencyHz, cutHz),
  }));
  const noisePower = settings.snrDb === Infinity ? 0 : stringPower(heard) / 10 ** (settings.snrDb / 10);
  const noiseColour = settings.noiseColour ?? random.pick(['white', 'pink'] as const);
  addNoise(out, rateHz, noisePower, noiseColour, random.fork('noise'));
  return {
    samples: new Float32Array(out),
    sampleRateHz: rateHz,
    onsetS: leadInS,
    truth: {
      spoke: drawn.spoke,
      kind: drawn.kind,
      tensionN: drawn.spoke.tensionN,
      tones: trueTones(sound.own, heard, noisePower, noiseColour),
      neighbours: sound.neighbours,
      inharmonicity: drawn.inharmonicity,
      noisePower,
      noiseColour,
    },
  };
}

/** What there was to be heard of each tone. */
export function trueTones(own: Voices, heard: readonly Partial[], noisePower: number, colour: NoiseColour): TrueTone[] {
  const loudest = heard.reduce((max, p) => Math.max(max, p.amplitude), 0);
  return own.tones.map((tone, k) => {
    const p = heard[k] as Partial;
    const density = noisePower * noiseDensity(colour, p.frequencyHz);
    const energySnrDb = 10 * Math.log10((p.amplitude ** 2 * p.decayS) / 2 / density);
    const mate = own.mates[k] ?? -1;
    return {
      ...tone,
      levelDb: 20 * Math.log10(p.amplitude),
      energySnrDb,
      present: p.amplitude > 0.01 * loudest && energySnrDb >= 23,
      ...(mate >= 0 ? { pairMate: mate } : {}),
    };
  });
}

/** Pluck `index` of a set: the same whether drawn alone or in the row. */
export function pluckOf(
  random: Random,
  index: number,
  settings: PluckSettings,
  kinds?: readonly Kind[],
): SimulatedPluck {
  const own = random.fork(index);
  return simulatePluck(own.fork('pluck'), drawSpoke(own.fork('spoke'), kinds), settings);
}
