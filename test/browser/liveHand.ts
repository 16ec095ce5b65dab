import type { Page } from 'playwright-core';
import { encodeWav } from '../signals/wav.ts';
import { type LivePlucks, NOISE_S, PLUCK_S } from './livePlucks.ts';

interface Hand {
  readonly plucked: { readonly spoke: number; readonly atMs: number }[];
  /** When the microphone was asked for, and when the screen said that all is heard; ms of the page's clock. */
  askedMs?: number;
  allHeardMs?: number;
  /** Taps and keys since the microphone was asked for. */
  touches: number;
}
declare global {
  var liveHand: Hand | undefined;
}

const SOUND = '/live-plucks.wav';

/**
 * Call before the app loads: whoever asks for the microphone gets a stream, of the browser's own, in which a room is heard and a hand that plucks
 * every `PLUCK_S` seconds the spoke that the screen asks for, until all is heard. All after `getUserMedia` is the app's.
 *
 * @param wheel how many spokes can be plucked at all, and how many takes there are of each
 * @param plucks asked for when the microphone is
 */
export async function bringLiveHand(
  page: Page,
  wheel: { readonly spokes: number; readonly takes: number },
  plucks: () => LivePlucks,
): Promise<void> {
  await page.route(`**${SOUND}`, (route) => {
    const { samples, rateHz } = plucks();
    return route.fulfill({ contentType: 'audio/wav', body: Buffer.from(encodeWav([samples], rateHz, 'int16')) });
  });
  await page.addInitScript(
    ({ sound, pluckS, noiseS, spokes, takes }) => {
      const hand: Hand = { plucked: [], touches: 0 };
      globalThis.liveHand = hand;
      for (const touch of ['pointerdown', 'keydown'])
        addEventListener(touch, () => hand.touches++, { capture: true, passive: true });
      const pluckWanted = (context: AudioContext, buffer: AudioBuffer, ear: AudioNode) => {
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
      MediaDevices.prototype.getUserMedia = async () => {
        hand.askedMs = performance.now();
        hand.touches = 0;
        const context = new AudioContext();
        await context.resume();
        const buffer = await context.decodeAudioData(await (await fetch(sound)).arrayBuffer());
        const ear = context.createMediaStreamDestination();
        const room = new AudioBufferSourceNode(context, { buffer, loop: true, loopStart: 0, loopEnd: noiseS });
        room.connect(ear);
        room.start();
        const every = setInterval(() => {
          if (!pluckWanted(context, buffer, ear)) clearInterval(every);
        }, pluckS * 1e3);
        return ear.stream;
      };
    },
    { sound: SOUND, pluckS: PLUCK_S, noiseS: NOISE_S, ...wheel },
  );
}
