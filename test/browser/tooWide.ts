/** Runs in the page: what makes it wider than its window; empty where it needs no sideways scroll. */
export function tooWide(): readonly string[] {
  if (document.documentElement.scrollWidth <= innerWidth) return [];
  const scrolls = (element: Element): boolean =>
    element.parentElement !== null &&
    (getComputedStyle(element.parentElement).overflowX !== 'visible' || scrolls(element.parentElement));
  const found = [...document.querySelectorAll('body *')]
    .filter((element) => element.getBoundingClientRect().right > innerWidth + 1 && !scrolls(element))
    .map((element) => `${element.tagName.toLowerCase()}.${element.className}: ${element.textContent?.slice(0, 60)}`);
  return [`${document.documentElement.scrollWidth} pixels in a window of ${innerWidth}`, ...found.slice(0, 8)];
}
