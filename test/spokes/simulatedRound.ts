import { modes } from '../../src/physics/modes.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import type { Pluck, Round, Wheel } from '../../src/spokes/wheel.ts';
import { hertz, newtonMetresPerRadian, newtons, newtonsPerMetre } from '../../src/units.ts';
import { pluck } from './pluck.ts';

const HELD = { kind: 'support', stiffness: newtonsPerMetre(Number.POSITIVE_INFINITY) } as const;
const END = { inPlane: newtonMetresPerRadian(14), across: newtonMetresPerRadian(10) };

/** The tones of a described spoke at a tension, from the exact modes of the member (the fourth is the part at the hub). */
function tonesAt(wheel: Wheel, spoke: number, tensionN: number, shift: number): Pick<Pluck, 'tones' | 'covarianceHz2'> {
  const described = describeMember(wheel, spoke);
  if (!described.ok) throw new Error(described.reason);
  const frequencies = modes(described.described.member, newtons(tensionN), { hub: END, rim: END }, 'inPlane', HELD, 3);
  const base = pluck('x', 400);
  const tones = frequencies.map((frequencyHz, i) => ({
    ...(base.tones[i] ?? base.tones[0]),
    frequencyHz: hertz(frequencyHz * (1 + shift)),
    uHz: hertz(2e-4 * frequencyHz),
  })) as unknown as Pluck['tones'];
  return { tones, covarianceHz2: tones.map((tone, i) => tones.map((_, j) => (i === j ? tone.uHz ** 2 : 0))) };
}

/** Tensions of a dished wheel, N, by place: two are off, the fifth tight, the tenth slack. */
const count = 32;
const truth = Array.from({ length: count }, (_, i) => (i % 2 === 0 ? 1000 : 517) * (1 + 0.01 * (((3 * i) % 7) - 3)));
truth[4] = 1290;
truth[9] = 400;

export const SIMULATED = { truth } as const;

/** A round of such a wheel, two plucks a spoke, tones exact but for `shift`, a relative error of frequency by pluck. */
export function simulatedRound(
  wheel: Wheel,
  tensions: readonly number[] = truth,
  shift: (spoke: number, n: number) => number = () => 0,
): Round {
  const plucks = tensions.flatMap((tension, i) =>
    [1, 2].map(
      (n): Pluck => ({ ...pluck(`${i}-${n}`, 400), ...tonesAt(wheel, i + 1, tension, shift(i + 1, n)), spoke: i + 1 }),
    ),
  );
  return {
    id: 'r',
    startedAt: '2026-01-01T00:00:00Z',
    how: { crossing: 'held', direction: 'inPlane' },
    state: { tyre: 'off' },
    order: 'byPlace',
    plucksToSettle: 2,
    plucks,
    skipped: [],
  };
}
