import { registerSW } from 'virtual:pwa-register';

/** Registers the service worker; a new version waits until the person says so, never in mid-round. */
export function watchForUpdate(onReady: () => void, onOffline: () => void): { readonly apply: () => void } {
  const apply = registerSW({ immediate: true, onNeedRefresh: onReady, onOfflineReady: onOffline });
  return { apply: () => void apply(true) };
}
