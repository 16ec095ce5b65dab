const CHANNEL = 'ringtrue';

/**
 * Two tabs, or a tab and the installed app, keep the same wheels, and each writes what it knows. One that was in the background while another
 * saved begins anew when it comes back, so that what it knows is what is kept; one that is in sight, or listens, says so instead.
 *
 * @param listens whether a reload would interrupt
 */
export function watchOtherTabs(listens: () => boolean, tell: () => void): { readonly announce: () => void } {
  if (typeof BroadcastChannel === 'undefined') return { announce: () => {} };
  const channel = new BroadcastChannel(CHANNEL);
  let behind = false;
  const catchUp = () => {
    if (!behind || document.visibilityState === 'hidden') return;
    if (listens()) tell();
    else location.reload();
  };
  channel.onmessage = () => {
    // Once: a round in the other tab saves with every pluck.
    if (!behind && document.visibilityState !== 'hidden') tell();
    behind = true;
  };
  document.addEventListener('visibilitychange', catchUp);
  return { announce: () => channel.postMessage('saved') };
}
