/** Keeps the screen on while a round is walked. */
export interface WakeLock {
  hold(): void;
  release(): void;
}

interface Sentinel extends EventTarget {
  readonly released: boolean;
  release(): Promise<void>;
}

/**
 * Asks for the screen lock and asks again whenever the page comes back, for it is lost each time the page is hidden.
 *
 * @param tell whether it is held now
 */
export function createWakeLock(tell: (state: 'off' | 'held' | 'unavailable') => void): WakeLock {
  let wanted = false;
  let sentinel: Sentinel | undefined;
  const ask = async () => {
    if (!wanted || document.visibilityState !== 'visible' || (sentinel && !sentinel.released)) return;
    try {
      const got = (await navigator.wakeLock.request('screen')) as Sentinel;
      if (!wanted) return void got.release();
      sentinel = got;
      tell('held');
      got.addEventListener('release', () => wanted && tell('unavailable'));
    } catch {
      tell('unavailable');
    }
  };
  document.addEventListener('visibilitychange', () => void ask());
  return {
    hold: () => {
      if (wanted) return;
      wanted = true;
      if ('wakeLock' in navigator) void ask();
      else tell('unavailable');
    },
    release: () => {
      wanted = false;
      void sentinel?.release().catch(() => {});
      sentinel = undefined;
      tell('off');
    },
  };
}
