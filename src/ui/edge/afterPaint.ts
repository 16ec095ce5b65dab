/** Longest wait where nothing is painted: a page in the background. */
const LATEST_MS = 100;

/** Does the work once the screen has shown what is true now, so that a tap is answered first. In the background it is done all the same. */
export function afterPaint(work: () => void): void {
  let done = false;
  const once = () => {
    if (done) return;
    done = true;
    clearTimeout(timer);
    work();
  };
  const timer = setTimeout(once, LATEST_MS);
  // The frame comes before its painting, the task after it.
  if (typeof requestAnimationFrame === 'function') requestAnimationFrame(() => setTimeout(once, 0));
}
