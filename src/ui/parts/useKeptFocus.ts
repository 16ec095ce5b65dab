import { useEffect, useRef } from 'preact/hooks';

/**
 * Where the control that had the focus goes away, its successor takes it: by keys one goes on where one was, not from the top of the page.
 *
 * @param stage a new value means that controls may have gone; nothing is taken from what has the focus
 * @param successor what takes the focus then
 */
export function useKeptFocus(stage: unknown, successor: () => HTMLElement | null): void {
  const first = useRef(true);
  useEffect(() => {
    const lost = document.activeElement === null || document.activeElement === document.body;
    if (!first.current && lost) successor()?.focus({ preventScroll: true });
    first.current = false;
  }, [stage]);
}
