/** Two of one id would become one where files come together: the second takes the id with the next free number behind it. */
export function ownIds<Item extends { readonly id: string }>(items: readonly Item[]): readonly Item[] {
  const taken = new Set(items.map((item) => item.id));
  const seen = new Set<string>();
  return items.map((item) => {
    if (!seen.has(item.id)) {
      seen.add(item.id);
      return item;
    }
    let number = 2;
    while (taken.has(`${item.id}-${number}`)) number++;
    const id = `${item.id}-${number}`;
    taken.add(id);
    return { ...item, id };
  });
}
