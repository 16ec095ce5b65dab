import type { MeasureRefusal, Reading } from '../contract.ts';
import { heardTones } from './heardTones.ts';
import { A_SIDE, finishGroup, startGroup } from './measureGroup.ts';
import { measureSpoke } from './measureSpoke.ts';
import type { Learned, SpokeTones, WheelReading } from './spokeTones.ts';

/**
 * Tensions of all spokes of a wheel at once.
 *
 * Method: spokes of a group share the errors of mass, length, crossing and stiffness, bounded by the description, and the stiffness of
 * their ends, each spoke with a scatter of its own; tensions are their own. Each group is solved jointly
 * (`measureGroup.ts`); the ends of groups are loosely tied (`tiedEnds`). Known
 * tensions are weighed in; a spare spoke lends what it says of mass and stiffness.
 * @param spokes every spoke with at least one pluck, or known; any number, any groups
 * @source Gelman et al., Bayesian Data Analysis (3rd ed., 2013), ch. 5 (hierarchical models)
 * @validity the common scale is not in the tones: mass and tension trade off exactly, so that the mass's uncertainty stays
 */
export const measureWheel = (spokes: readonly SpokeTones[]): WheelReading => {
  const readings = new Map<number, Reading | MeasureRefusal>();
  const learned = new Map<string, Learned>();
  const groups = new Map<string, SpokeTones[]>();
  for (const spoke of spokes) {
    if (heardTones(spoke.plucks).length === 0) {
      readings.set(spoke.id, { ok: false, reason: 'noTones' });
      continue;
    }
    const group = groups.get(spoke.group);
    if (group === undefined) groups.set(spoke.group, [spoke]);
    else group.push(spoke);
  }
  const works = [...groups].map(([name, group]) => ({ name, work: startGroup(group) }));
  for (const { name, work } of works) {
    const others = works.flatMap((o) => (o.work === work || o.work.joint === undefined ? [] : [o.work.joint.fit.ends]));
    const result = finishGroup(work, others);
    const group = groups.get(name) ?? [];
    for (const [id, reading] of result.readings) {
      const spoke = group.find((one) => one.id === id);
      readings.set(id, spoke && reading.ok && group.length < A_SIDE ? (refusedAlone(spoke) ?? reading) : reading);
    }
    if (result.learned !== undefined) learned.set(name, result.learned);
  }
  return { readings, learned };
};

/** With no side to bear it out, a spoke is not made of several plucks of which none is one by itself. */
const refusedAlone = (spoke: SpokeTones): MeasureRefusal | undefined => {
  if (spoke.plucks.length < 2 || spoke.known !== undefined) return undefined;
  let first: MeasureRefusal | undefined;
  for (const pluck of spoke.plucks) {
    const alone = measureSpoke({ ...spoke, plucks: [pluck] });
    if (alone.ok) return undefined;
    first ??= alone;
  }
  return first;
};
