import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { builtFolder } from './builtFolder.ts';
import { startPreview } from './startPreview.ts';

const SOUND = '/injected-sound.wav';
const SCRIPT = '/injected-microphone.js';

/**
 * Runs in the page before the app: whoever asks for the microphone gets a stream in which a file plays, as a `MediaStream` of the browser's own.
 * All after `getUserMedia` is the app's. The sound begins when the app has its stream. What goes wrong in the page is noted in `problems`.
 */
const microphone = (sound: string) => {
  const problems: string[] = [];
  (globalThis as { problems?: string[] }).problems = problems;
  addEventListener('error', (event) => problems.push(event.message));
  addEventListener('unhandledrejection', (event) => problems.push(String(event.reason)));
  const fetched = fetch(sound).then((response) => response.arrayBuffer());
  // On the prototype: set on the object itself it was seen to be gone later, in WebKitGTK 2.50.
  MediaDevices.prototype.getUserMedia = async () => {
    const bytes = (await fetched).slice(0);
    const context = new AudioContext();
    await context.resume();
    const buffer = await context.decodeAudioData(bytes);
    const destination = context.createMediaStreamDestination();
    const source = new AudioBufferSourceNode(context, { buffer });
    source.connect(destination);
    source.start();
    // Kept: what nobody refers to may be collected while it plays.
    (globalThis as { injected?: unknown }).injected = { context, source, destination };
    return destination.stream;
  };
};

/** Serves the built app with one script before its own, so that a browser without a file for a microphone hears one all the same. */
export const serveWithSound = (wav: Uint8Array): ReturnType<typeof startPreview> =>
  startPreview([
    {
      name: 'injected-microphone',
      configurePreviewServer: ({ middlewares }) => {
        middlewares.use((request, response, next) => {
          const { pathname } = new URL(request.url ?? '/', 'http://localhost');
          const answer = (type: string, body: string | Uint8Array) => {
            response.setHeader('content-type', type);
            response.end(body);
          };
          if (pathname === SOUND) return answer('audio/wav', wav);
          if (pathname === SCRIPT) return answer('text/javascript', `(${String(microphone)})('${SOUND}');`);
          if (pathname !== '/' && pathname !== '/index.html') return next();
          const html = readFileSync(join(builtFolder(), 'index.html'), 'utf8');
          answer('text/html', html.replace('<head>', `<head><script src="${SCRIPT}"></script>`));
        });
      },
    },
  ]);
