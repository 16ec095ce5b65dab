import { addNoise } from '../signals/noise.ts';
import { seededRandom } from '../signals/random.ts';
import { type RoundSettings, simulateRound } from '../signals/round.ts';
import { MICROPHONE_RATE_HZ } from './writeRound.ts';

/** From the moment the finger lets go; what rings on is cut off, softly. */
export const PLUCK_S = 2;
const BEFORE_S = 0.01;
const FADE_S = 0.05;
/** Of the room's noise, then it begins again. */
export const NOISE_S = 23;
/** High enough that the plucks' own noise is nothing; their power follows from it. */
const SILENT_DB = 200;

export interface LivePlucks {
  readonly rateHz: number;
  /** `NOISE_S` of noise, then the takes of spoke 1, of spoke 2 …, each `PLUCK_S` long; mono. */
  readonly samples: Float32Array;
}

/** The sounds of a wheel one by one, several takes a spoke, for a hand that plucks what the screen asks for; and the room between them. */
export function livePlucks(
  settings: Pick<RoundSettings, 'seed' | 'spokes' | 'style' | 'snrDb'>,
  takes: number,
): LivePlucks {
  const rateHz = MICROPHONE_RATE_HZ;
  const everyS = PLUCK_S + 3;
  const round = simulateRound({
    ...settings,
    rateHz,
    snrDb: SILENT_DB,
    plucksPerSpoke: takes,
    pluckEveryS: everyS,
    pauseBetweenSpokesS: everyS,
  });
  const noisePower = round.noisePower * 10 ** ((SILENT_DB - settings.snrDb) / 10);
  const noiseLength = NOISE_S * rateHz;
  const pluckLength = PLUCK_S * rateHz;
  const samples = new Float32Array(noiseLength + round.cues.length * pluckLength);
  const noise = new Float64Array(noiseLength);
  addNoise(noise, rateHz, noisePower, 'pink', seededRandom(`room|${settings.seed}`));
  samples.set(noise);
  const fade = Math.round(FADE_S * rateHz);
  for (const [k, { timeS }] of round.cues.entries()) {
    const from = Math.round((timeS - BEFORE_S) * rateHz);
    const one = round.samples.slice(from, from + pluckLength);
    for (let i = 0; i < fade; i++) {
      const at = one.length - 1 - i;
      one[at] = (one[at] ?? 0) * (i / fade);
    }
    samples.set(one, noiseLength + k * pluckLength);
  }
  return { rateHz, samples };
}
