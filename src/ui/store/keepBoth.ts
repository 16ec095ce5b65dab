import { idByContent, type NewId } from '../../spokes/ownIds.ts';

interface Kept {
  readonly id: string;
}

/**
 * Brings two lists together by id and loses nothing. Of two of one id of which one holds all of the other the fuller stands; otherwise both do,
 * the incoming one under an id of its own, which it has again when the same file comes a second time, or back from another device.
 *
 * @param holds whether the first has all that the second has
 * @param given takes note of each that got a new id
 * @returns the array itself where nothing comes to it
 */
export function keepBoth<Item extends Kept>(
  mine: readonly Item[],
  theirs: readonly Item[],
  holds: (one: Item, other: Item) => boolean,
  what: NewId['what'],
  given: NewId[],
): readonly Item[] {
  const byId = new Map(mine.map((item) => [item.id, item]));
  for (const their of theirs) {
    if (!byId.has(their.id) && mine.some((one) => isRenamed(their, one) && holds(one, their))) continue;
    const item = withPlace(byId, their, holds);
    const here = byId.get(item.id);
    if (here !== undefined && holds(here, item)) continue;
    byId.set(item.id, item);
    if (here === undefined && item.id !== their.id) given.push({ what, was: their.id, now: item.id });
  }
  const all = [...byId.values()];
  return all.length === mine.length && all.every((item, index) => item === mine[index]) ? mine : all;
}

/** The very one that is here, as another device had to name it beside its own of that id. */
const isRenamed = (their: Kept, one: Kept): boolean => their.id === idByContent({ ...their, id: one.id });

/** The item under the first id of its own that is free, or has something there of which one holds the other. */
function withPlace<Item extends Kept>(
  byId: ReadonlyMap<string, Item>,
  item: Item,
  holds: (one: Item, other: Item) => boolean,
): Item {
  const here = byId.get(item.id);
  if (here === undefined || holds(here, item) || holds(item, here)) return item;
  return withPlace(byId, { ...item, id: idByContent(item) }, holds);
}
