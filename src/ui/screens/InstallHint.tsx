import { useEffect, useState } from 'preact/hooks';

interface InstallPrompt extends Event {
  prompt(): Promise<unknown>;
}

/** Offers installing where the browser can; says how where only the person can. Silent once installed. */
export function InstallHint() {
  const [offer, setOffer] = useState<InstallPrompt | undefined>(undefined);
  useEffect(() => {
    const caught = (event: Event) => {
      event.preventDefault();
      setOffer(event as InstallPrompt);
    };
    addEventListener('beforeinstallprompt', caught);
    return () => removeEventListener('beforeinstallprompt', caught);
  }, []);
  if (matchMedia('(display-mode: standalone)').matches) return null;
  const byHand = /iPhone|iPad/.test(navigator.userAgent);
  if (offer === undefined && !byHand) return null;
  return (
    <section class="note" aria-label="Install">
      <p>An installed app keeps its wheels; a tab that is not used for a week may lose them on some phones.</p>
      {offer === undefined ? (
        <p>Open the share menu and choose “Add to Home Screen”.</p>
      ) : (
        <button type="button" class="button" onClick={() => void offer.prompt().then(() => setOffer(undefined))}>
          Install
        </button>
      )}
    </section>
  );
}
