import type { How, Tone } from '../src/contract.ts';
import { measureSpoke } from '../src/physics/measureSpoke.ts';
import { measureWheel } from '../src/physics/measureWheel.ts';
import { type PreparedMember, prepareMember } from '../src/physics/prepareMember.ts';
import type { SpokeTones } from '../src/physics/spokeTones.ts';
import { newtons } from '../src/units.ts';
import type { Kind } from '../test/signals/catalogue.ts';
import { limitsOf, quantileOfNormals } from './memberLimit.ts';
import { Score } from './memberScore.ts';
import { pluckOf } from './memberTrial.ts';
import { describedOf, drawRichWheel, plainPluck, type RichWheel, richPluck } from './richTrial.ts';
import { pc } from './tables.ts';

/** Wheels of some kinds, and how they are plucked. */
export interface Scene {
  readonly name: string;
  readonly kinds: readonly Kind[];
  readonly crossed?: boolean;
  readonly pluck: (rich: RichWheel, index: number, how: How & { direction: 'inPlane' }) => readonly (readonly Tone[])[];
  readonly known?: boolean;
}
const PLAIN_NOISE = 0.001;
/** The lowest tones of one plane, with noise. */
export const plain =
  (count: number): Scene['pluck'] =>
  (rich, index) => [plainPluck(rich, index, count, PLAIN_NOISE)];
/** All that a pluck holds: both planes, the touching pair, rim and neighbours. */
export const rich =
  (plucks: number): Scene['pluck'] =>
  (wheel, index, how) =>
    Array.from({ length: plucks }, (_, k) => richPluck(wheel, index, how, 0.0005, k));

/** The tones of a wheel's spokes as the member takes them. */
export const spokesOf = (wheel: RichWheel, scene: Scene): SpokeTones[] => {
  const crossed = wheel.wheel.spokes[0]?.crossingFromHubM !== undefined;
  const how = { crossing: crossed ? 'held' : 'none', direction: 'inPlane' } as const;
  const prepared = new Map<string, PreparedMember>();
  return wheel.wheel.spokes.map((spoke, i): SpokeTones => {
    const ready = prepared.get(spoke.side) ?? prepareMember(describedOf(wheel.wheel, i));
    prepared.set(spoke.side, ready);
    const plucks = scene.pluck(wheel, i, how).map((tones) => pluckOf(tones, how));
    const error = wheel.random.fork(`known${i}`).normal(0, 0.03);
    const known =
      scene.known === true && i === 0
        ? { known: { tension: newtons(spoke.tensionN * (1 + error)), u: newtons(0.03 * spoke.tensionN) } }
        : {};
    return { id: i, prepared: ready, plucks, group: spoke.side, ...known };
  });
};

/** One row for spokes alone, one for whole wheels. */
export const runScene = (scene: Scene, wheels: number): string[][] => {
  const alone = new Score();
  const joint = new Score();
  for (let seed = 0; seed < wheels; seed++) {
    const wheel = drawRichWheel(seed, scene.kinds, scene.crossed);
    const spokes = spokesOf(wheel, scene);
    if (scene.known !== true)
      spokes.forEach((spoke, i) => {
        if (i % 4 === 0) alone.add(measureSpoke(spoke), wheel.wheel.spokes[i]?.tensionN ?? Number.NaN);
      });
    const { readings } = measureWheel(spokes);
    for (const side of ['left', 'right']) {
      const errors: number[] = [];
      const own: number[] = [];
      wheel.wheel.spokes.forEach((spoke, i) => {
        if (spoke.side !== side) return;
        const reading = readings.get(i);
        const error = joint.add(reading, spoke.tensionN);
        if (error === undefined || reading?.ok !== true) return;
        errors.push(error);
        own.push(reading.uOwnN / reading.tensionN);
      });
      joint.addSide(errors, own);
    }
  }
  const rows = [joint.row(`${scene.name}, whole wheel`)];
  if (scene.known !== true) rows.unshift(alone.row(`${scene.name}, one spoke`));
  return rows;
};

/** The information limit of a plain scene, in the columns of `Score`. */
export const limitRow = (name: string, kinds: readonly Kind[], tones: number, wheels: number): string[] => {
  const all = Array.from({ length: wheels }, (_, seed) => limitsOf(drawRichWheel(seed, kinds), tones, PLAIN_NOISE));
  const own = all.flatMap((limits) => limits.own);
  const whole = all.flatMap((limits) => limits.whole);
  const of = (sigmas: readonly number[], p: number): string => pc(quantileOfNormals(sigmas, p));
  const none = '–';
  const spokes = String(whole.length);
  return [name, spokes, none, of(whole, 0.5), of(whole, 0.95), none, none, none, of(own, 0.5), of(own, 0.95), none];
};
