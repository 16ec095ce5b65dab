import { registerSW } from 'virtual:pwa-register';

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
  const apply = registerSW({
    immediate: true,
    onNeedRefresh: onReady,
    onOfflineReady: onOffline,
    onNeedReload: onNewVersion,
  });
  return { apply: () => void apply(true) };
}
