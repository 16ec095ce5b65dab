import { drawSpoke, isComposite, type Kind, scatterEnds } from './catalogue.ts';
import type { SimulatedPluck } from './pluck.ts';
import { type Random, seededRandom } from './random.ts';
import type { RichHow } from './richVoices.ts';
import { simulateRound, type WheelSpoke } from './round.ts';
import { drawCharacter } from './wheelCharacter.ts';

/**
 * One pluck of the blind judge: a spoke with its touching partner (its own tension) and two neighbours of its side, on a rim of its own,
 * in a room of its own. `how.crossing` is taken as `none` where the drawn spoke touches nothing.
 */
export function simulateRichPluck(
  random: Random,
  how: RichHow,
  settings: { readonly snrDb: number; readonly rateHz?: number; readonly kinds?: readonly Kind[] },
): SimulatedPluck {
  const drawn = drawSpoke(random.fork('spoke'), settings.kinds);
  const side = random.fork('side');
  const like = (scatter: number): WheelSpoke => ({
    ...drawn.spoke,
    ...scatterEnds({ hub: drawn.spoke.hub, rim: drawn.spoke.rim }, 0.15, side),
    side: 'left',
    kind: drawn.kind,
    tensionN: drawn.spoke.tensionN * Math.exp(side.normal(0, scatter)),
  });
  const target: WheelSpoke = { ...drawn.spoke, side: 'left', kind: drawn.kind, partner: 2 };
  const crossing = drawn.spoke.crossingFromHubM === undefined ? 'none' : how.crossing;
  const round = simulateRound({
    seed: random.integer(0, 2 ** 31),
    spokes: [target, like(0.2), like(0.1), like(0.1)],
    style: 'rich',
    how: { ...how, crossing },
    character: drawCharacter(random.fork('character'), isComposite(drawn.kind)),
    snrDb: settings.snrDb,
    ...(settings.rateHz === undefined ? {} : { rateHz: settings.rateHz }),
    only: [1],
    plucksPerSpoke: 1,
    leadInS: side.uniform(0.28, 0.4),
    tailS: 1.1,
    peakDb: side.uniform(-24, -3),
  });
  return {
    samples: round.samples,
    sampleRateHz: round.sampleRateHz,
    onsetS: round.cues[0]?.timeS ?? 0,
    truth: {
      spoke: drawn.spoke,
      kind: drawn.kind,
      tensionN: drawn.spoke.tensionN,
      tones: round.truths[0]?.tones ?? [],
      neighbours: [],
      inharmonicity: drawn.inharmonicity,
      noisePower: round.noisePower,
      noiseColour: 'pink',
    },
  };
}

/** `n` plucks of the blind judge. */
export function* richSet(
  seed: string | number,
  n: number,
  snrDb: number,
  how: RichHow = { crossing: 'held', direction: 'inPlane' },
  kinds?: readonly Kind[],
): Generator<SimulatedPluck> {
  const random = seededRandom(`rich|${seed}|${snrDb}|${how.crossing}|${how.direction}`);
  for (let i = 0; i < n; i++) yield simulateRichPluck(random.fork(i), how, kinds ? { snrDb, kinds } : { snrDb });
}
