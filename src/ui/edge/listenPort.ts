import type { CaptureFault } from '../../audio/edge/captureNews.ts';
import { decodeSound } from '../../audio/edge/decodeSound.ts';
import { openHearing } from '../../audio/edge/openHearing.ts';
import { openMicrophone } from '../../audio/edge/openMicrophone.ts';
import { openSpeaker, playedSource } from '../../audio/edge/playedSource.ts';
import type { SoundSource, SourceFailure } from '../../audio/edge/soundSource.ts';
import { DEMO_RATE_HZ, demoOf } from '../store/demoWheels.ts';
import type { ListenFailure, ListenHandlers, ListenPort, Opened } from '../store/ports.ts';
import { takeEar } from './takeEar.ts';
import { watchMicrophones } from './watchMicrophones.ts';

/** The same demo sounds the same each time. */
const DEMO_SEED = 24;

/** The three ways to listen, all through the same worker. */
export function createListenPort(): ListenPort {
  return {
    microphone: async (handlers) => {
      const source = await openMicrophone(handlers.onNews);
      if ('ok' in source) return failed(source);
      const unwatch = watchMicrophones((detail) =>
        handlers.onNews({ kind: 'problem', problem: 'microphoneChanged', detail }),
      );
      return opened(source, handlers, unwatch);
    },
    file: async (file, handlers) => {
      const sound = await decodeSound(file);
      if ('ok' in sound) return failed(sound);
      return opened(playedSource(sound, { kind: 'file', speed: 'fast' }), handlers);
    },
    demo: async (wheel, options, askSpoke, handlers) => {
      const demo = demoOf(wheel.id);
      if (!demo) return { ok: false, problem: 'fileUnreadable', detail: wheel.name };
      const speaker = options.aloud ? openSpeaker(DEMO_RATE_HZ) : undefined;
      // Apart from the first load: it brings the physics along.
      const { demoSound, patientHand } = await import('./demoSound.ts');
      let heardS = 0;
      const hand = patientHand(askSpoke, () => heardS);
      const sound = demoSound(demo, hand.ask, DEMO_SEED);
      const counted = {
        ...sound,
        next: (into: Float32Array) => {
          heardS += into.length / sound.sampleRateHz;
          return sound.next(into);
        },
      };
      return opened(playedSource(counted, { kind: 'demo', speed: options.speed, ...(speaker ? { speaker } : {}) }), {
        ...handlers,
        onEar: (event) => {
          handlers.onEar(event);
          if (event.kind === 'heard') hand.answered();
        },
      });
    },
  };
}

/** @param atEnd called when the source is let go */
async function opened(source: SoundSource, handlers: ListenHandlers, atEnd = () => {}): Promise<Opened> {
  const letGo = await takeEar();
  if (letGo === undefined) {
    source.stop();
    atEnd();
    return { ok: false, problem: 'heardElsewhere' };
  }
  const hearing = openHearing(source, undefined, handlers.onEar, handlers.onNews);
  const close = () => {
    hearing.close();
    letGo();
    atEnd();
  };
  return { ok: true, listening: { kind: source.kind, settings: source.settings, ...hearing, close } };
}

const failed = ({ problem, detail, wav }: SourceFailure): ListenFailure => ({
  ok: false,
  problem: wav === undefined ? (problem satisfies CaptureFault) : `sound:${wav}`,
  ...(detail === undefined ? {} : { detail }),
});
