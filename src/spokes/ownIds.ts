import { fingerprint } from './fingerprint.ts';

/** Something of a file that had another's id, and is kept under one of its own. */
export interface NewId {
  readonly what: 'wheel' | 'round' | 'gauge' | 'gaugeRound' | 'calibration';
  readonly was: string;
  readonly now: string;
}

/** The id of something whose own one is another's: named by what it holds, so that it is the same whenever the same file is read. */
export const idByContent = (item: { readonly id: string }): string => `${item.id}-${fingerprint(JSON.stringify(item))}`;

/**
 * Two of one id would become one where files come together: the first keeps it, each further one gets its own.
 *
 * @param given takes note of each that got a new id
 */
export function ownIds<Item extends { readonly id: string }>(
  items: readonly Item[],
  what: NewId['what'],
  given: NewId[],
): readonly Item[] {
  const taken = new Set(items.map((item) => item.id));
  const seen = new Set<string>();
  return items.map((item) => {
    if (!seen.has(item.id)) {
      seen.add(item.id);
      return item;
    }
    const wanted = idByContent(item);
    let id = wanted;
    for (let number = 2; taken.has(id); number++) id = `${wanted}-${number}`;
    taken.add(id);
    given.push({ what, was: item.id, now: id });
    return { ...item, id };
  });
}
