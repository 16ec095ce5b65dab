/** Runs in the page while it listens: what of a round is not wholly between the window's top and the buttons; empty where all is in sight. */
export function hiddenParts(): readonly string[] {
  const box = (part: string) => document.querySelector(part)?.getBoundingClientRect();
  const controls = box('.listen-controls')?.top ?? 0;
  return ['.place', '.progress', '.signs', '.digits', '.wheel-view'].flatMap((part) => {
    const { top = Number.NaN, bottom = Number.NaN } = box(part) ?? {};
    // Layouts round to whole and half pixels.
    return top >= 0 && bottom <= controls + 0.6 ? [] : [`${part} from ${top} to ${bottom}, buttons from ${controls}`];
  });
}
