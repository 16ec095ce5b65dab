import type { Refusal } from '../contract.ts';
import type { Wheel } from '../spokes/wheel.ts';

export type ChosenWheel<One> =
  | { readonly ok: true; readonly one: One }
  /** Detail: the wheels that are there, each with its count. */
  | Refusal<'noSuchWheel' | 'severalWheels' | 'noWheel'>;

/** The wheel that a person named: by count from 1, id or name; without a name, the only one there is. */
export function chooseWheel<One extends { readonly wheel: Wheel }>(
  wheels: readonly One[],
  name?: string,
): ChosenWheel<One> {
  const list = wheels.map(({ wheel }, i) => `${i + 1} (${wheel.name})`).join(', ');
  const found = name === undefined ? wheels : named(wheels, name);
  const [one, another] = found;
  if (one !== undefined && another === undefined) return { ok: true, one };
  if (wheels.length === 0) return { ok: false, reason: 'noWheel', detail: '' };
  return { ok: false, reason: one === undefined ? 'noSuchWheel' : 'severalWheels', detail: list };
}

function named<One extends { readonly wheel: Wheel }>(wheels: readonly One[], name: string): readonly One[] {
  const same = (a: string) => a.trim().toLowerCase() === name.trim().toLowerCase();
  const ways = [
    wheels.filter(({ wheel }) => wheel.id === name),
    wheels.filter(({ wheel }) => same(wheel.name)),
    wheels.filter((_, i) => `${i + 1}` === name),
  ];
  return ways.find((found) => found.length > 0) ?? [];
}
