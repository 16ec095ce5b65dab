import type { Kind } from './catalogue.ts';
import { type PluckSettings, pluckOf, type SimulatedPluck } from './pluck.ts';
import { seededRandom } from './random.ts';

type Overrides = Partial<Omit<PluckSettings, 'style' | 'snrDb'>> & { readonly kinds?: readonly Kind[] };

/** `n` plucks in one plane without glide, one after the other as they are asked for. */
export function* singleSet(
  seed: string | number,
  n: number,
  snrDb: number,
  overrides: Overrides = {},
): Generator<SimulatedPluck> {
  const { kinds, ...settings } = overrides;
  const random = seededRandom(`single|${seed}|${snrDb}`);
  for (let i = 0; i < n; i++) yield pluckOf(random, i, { ...settings, style: 'single', snrDb }, kinds);
}

/** `n` plucks with both planes, doublets, glide, weak or missing fundamentals, answering neighbours. */
export function* fullSet(
  seed: string | number,
  n: number,
  snrDb: number,
  overrides: Overrides = {},
): Generator<SimulatedPluck> {
  const { kinds, ...settings } = overrides;
  const random = seededRandom(`full|${seed}|${snrDb}`);
  for (let i = 0; i < n; i++) yield pluckOf(random, i, { ...settings, style: 'full', snrDb }, kinds);
}
