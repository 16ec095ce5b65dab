const CHANNEL = 'ringtrue';

/**
 * Two tabs, or a tab and the installed app, keep the same wheels. Each says when it saved, and reads what another saved: at once where it is in
 * sight, else as soon as it comes back.
 */
export function watchOtherTabs(read: () => void): { readonly announce: () => void } {
  if (typeof BroadcastChannel === 'undefined') return { announce: () => {} };
  const channel = new BroadcastChannel(CHANNEL);
  let behind = false;
  const catchUp = () => {
    if (!behind || document.visibilityState === 'hidden') return;
    behind = false;
    read();
  };
  channel.onmessage = () => {
    behind = true;
    catchUp();
  };
  document.addEventListener('visibilitychange', catchUp);
  return { announce: () => channel.postMessage('saved') };
}
