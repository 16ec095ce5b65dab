import { registerSW } from 'virtual:pwa-register';

/** After the page has loaded. The whole app is then fetched for use without a network, and leaves the line to the first taps until that. */
const QUIET_MS = 3000;

/**
 * Registers the service worker; a new version waits until the person says so, never in mid-round.
 *
 * @param onNewVersion it took over, by this tab's wish or another's: the page is to be loaded anew
 */
export function watchForUpdate(
  onReady: () => void,
  onOffline: () => void,
  onNewVersion: () => void,
): { readonly apply: () => void } {
  let apply: ReturnType<typeof registerSW> | undefined;
  const register = () =>
    setTimeout(() => {
      apply = registerSW({
        immediate: true,
        onNeedRefresh: onReady,
        onOfflineReady: onOffline,
        onNeedReload: onNewVersion,
      });
    }, QUIET_MS);
  if (document.readyState === 'complete') register();
  else addEventListener('load', register, { once: true });
  return { apply: () => void apply?.(true) };
}
