interface Named {
  readonly id: string;
}

/**
 * Brings together what two tabs made of the same things. Each thing has an id: it stands as the tab left it that changed it; where both
 * did, it is gone through figure by figure, and its lists by id in turn. A figure that both changed stands as it is here. What one
 * deleted and the other changed stays.
 *
 * @param base as both knew them
 * @param mine as they are here
 * @param theirs as the other tab left them; what is the same there stays the same object as here
 * @returns in the order of `theirs`, then what is new here
 */
export function mergeEdits<Item extends Named>(
  base: readonly Item[],
  mine: readonly Item[],
  theirs: readonly Item[],
): readonly Item[] {
  const before = byId(base);
  const here = byId(mine);
  const there = byId(theirs);
  const kept = theirs.flatMap((their) => {
    const old = before.get(their.id);
    const my = here.get(their.id);
    if (my === undefined) return old === undefined || !same(old, their) ? [their] : [];
    return [mergeEdit(old, my, their)];
  });
  const onlyHere = mine.filter(({ id }) => {
    const old = before.get(id);
    return !there.has(id) && (old === undefined || !same(old, here.get(id)));
  });
  return [...kept, ...onlyHere];
}

/**
 * Of one thing: each field, and each of its fields in turn, as that one left it who changed it; what both changed stands as mine.
 * Boxes of two kinds have no fields in common: there mine stands whole.
 */
export function mergeEdit<Item>(base: Item | undefined, mine: Item, theirs: Item): Item {
  if (same(base, mine)) return same(mine, theirs) ? mine : theirs;
  if (same(base, theirs)) return mine;
  if (isList(mine) && isList(theirs))
    return inOrder(mergeEdits(isList(base) ? base : [], mine, theirs)) as unknown as Item;
  if (!isBox(mine) || !isBox(theirs) || mine.kind !== theirs.kind) return mine;
  const known: Box = isBox(base) ? base : {};
  const merged = new Map<string, unknown>();
  for (const field of new Set([...Object.keys(theirs), ...Object.keys(mine)])) {
    const value = mergeEdit(known[field], mine[field], theirs[field]);
    if (value !== undefined) merged.set(field, value);
  }
  return Object.fromEntries(merged) as unknown as Item;
}

type Box = Readonly<Record<string, unknown>>;
const isBox = (value: unknown): value is Box => typeof value === 'object' && value !== null && !Array.isArray(value);

const byId = <Item extends Named>(items: readonly Item[]) => new Map(items.map((item) => [item.id, item]));

const isList = (value: unknown): value is readonly Named[] =>
  Array.isArray(value) && value.every((item) => typeof item === 'object' && item !== null && 'id' in item);

/** Plucks of two tabs in the order in which they were heard. */
const inOrder = (items: readonly (Named & { readonly at?: string })[]): readonly Named[] =>
  items.some(({ at }) => at === undefined) ? items : [...items].sort((a, b) => (a.at ?? '').localeCompare(b.at ?? ''));

const same = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);
