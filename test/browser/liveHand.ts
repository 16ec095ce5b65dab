import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { encodeWav } from '../signals/wav.ts';
import { builtFolder } from './builtFolder.ts';
import { type LivePlucks, NOISE_S, PLUCK_S } from './livePlucks.ts';
import { startPreview } from './startPreview.ts';

interface Hand {
  readonly plucked: { readonly spoke: number; readonly atMs: number }[];
  /** When the microphone was asked for, and when the screen said that all is heard; ms of the page's clock. */
  askedMs?: number;
  allHeardMs?: number;
  /** Taps and keys since the microphone was asked for. */
  touches: number;
  /** What went wrong in the page. */
  readonly problems: string[];
  kept?: unknown;
}
declare global {
  var liveHand: Hand | undefined;
}

const SOUND = '/live-plucks.wav';
const SCRIPT = '/live-hand.js';

interface Setting {
  readonly sound: string;
  readonly pluckS: number;
  readonly noiseS: number;
  /** How many spokes can be plucked at all, and how many takes there are of each. */
  readonly spokes: number;
  readonly takes: number;
}

/**
 * Runs in the page before the app: whoever asks for the microphone gets a stream, of the browser's own, in which a room is heard and a hand that
 * plucks every so often the spoke that the screen asks for, until all is heard. All after `getUserMedia` is the app's.
 */
function handInPage({ sound, pluckS, noiseS, spokes, takes }: Setting): void {
  const hand: Hand = { plucked: [], touches: 0, problems: [] };
  globalThis.liveHand = hand;
  addEventListener('error', (event) => hand.problems.push(event.message));
  addEventListener('unhandledrejection', (event) => hand.problems.push(String(event.reason)));
  for (const touch of ['pointerdown', 'keydown'])
    addEventListener(touch, () => hand.touches++, { capture: true, passive: true });
  const pluckWanted = (context: AudioContext, buffer: AudioBuffer, ear: AudioNode): boolean => {
    const place = document.querySelector('.place')?.textContent ?? '';
    if (place.includes('All heard')) {
      hand.allHeardMs ??= performance.now();
      return false;
    }
    const spoke = Number(/[Ss]poke (\d+)/.exec(place)?.[1]);
    if (!(spoke > 0 && spoke <= spokes)) return true;
    const take = hand.plucked.filter((one) => one.spoke === spoke).length % takes;
    const source = new AudioBufferSourceNode(context, { buffer });
    source.connect(ear);
    source.start(0, noiseS + ((spoke - 1) * takes + take) * pluckS, pluckS);
    hand.plucked.push({ spoke, atMs: performance.now() });
    return true;
  };
  // On the prototype: set on the object itself it was seen to be gone later, in WebKitGTK 2.50.
  MediaDevices.prototype.getUserMedia = async () => {
    hand.askedMs = performance.now();
    hand.touches = 0;
    // Long buffers: on a busy machine short ones tear the sound.
    const context = new AudioContext({ latencyHint: 'playback' });
    await context.resume();
    const buffer = await context.decodeAudioData(await (await fetch(sound)).arrayBuffer());
    const ear = context.createMediaStreamDestination();
    const room = new AudioBufferSourceNode(context, { buffer, loop: true, loopStart: 0, loopEnd: noiseS });
    room.connect(ear);
    room.start();
    const every = setInterval(() => {
      if (!pluckWanted(context, buffer, ear)) clearInterval(every);
    }, pluckS * 1e3);
    // Kept: what nobody refers to may be collected while it plays.
    hand.kept = [context, room, ear];
    return ear.stream;
  };
}

const setting = (wheel: Pick<Setting, 'spokes' | 'takes'>): Setting => ({
  sound: SOUND,
  pluckS: PLUCK_S,
  noiseS: NOISE_S,
  ...wheel,
});
const wavOf = ({ samples, rateHz }: LivePlucks) => encodeWav([samples], rateHz, 'int16');

/** Call before the app loads. @param plucks asked for when the microphone is */
export async function bringLiveHand(
  page: Page,
  wheel: Pick<Setting, 'spokes' | 'takes'>,
  plucks: () => LivePlucks,
): Promise<void> {
  await page.route(`**${SOUND}`, (route) =>
    route.fulfill({ contentType: 'audio/wav', body: Buffer.from(wavOf(plucks())) }),
  );
  await page.addInitScript(handInPage, setting(wheel));
}

/** The same for a browser that takes no script beforehand: the built app is served with one more, before its own. */
export const serveWithLiveHand = (
  wheel: Pick<Setting, 'spokes' | 'takes'>,
  plucks: LivePlucks,
): ReturnType<typeof startPreview> => {
  const wav = wavOf(plucks);
  return startPreview([
    {
      name: 'live-hand',
      configurePreviewServer: ({ middlewares }) => {
        middlewares.use((request, response, next) => {
          const { pathname } = new URL(request.url ?? '/', 'http://localhost');
          const answer = (type: string, body: string | Uint8Array) => {
            response.setHeader('content-type', type);
            response.end(body);
          };
          if (pathname === SOUND) return answer('audio/wav', wav);
          if (pathname === SCRIPT)
            return answer('text/javascript', `(${String(handInPage)})(${JSON.stringify(setting(wheel))});`);
          if (pathname !== '/' && pathname !== '/index.html') return next();
          const html = readFileSync(join(builtFolder(), 'index.html'), 'utf8');
          answer('text/html', html.replace('<head>', `<head><script src="${SCRIPT}"></script>`));
        });
      },
    },
  ]);
};
