import type { ExpectedAtTension } from '../../contract.ts';
import type { EarEvent, EarOptions } from '../earEvent.ts';
import type { CaptureNews } from './captureNews.ts';
import type { HearAnswer, HearRequest } from './hearProtocol.ts';
import type { SoundSource } from './soundSource.ts';

/** The page's end of the hearing worker. */
export interface OpenHearing {
  expect(expected: readonly ExpectedAtTension[] | undefined): void;
  /** Before the app makes a sound or shakes for `durationS`. */
  holdOff(durationS: number): void;
  /** Lets go of source and worker. */
  close(): void;
}

/** Starts a worker, ties the source's sound straight to it and passes on what the ear says. */
export function openHearing(
  source: SoundSource,
  expected: readonly ExpectedAtTension[] | undefined,
  onEar: (event: EarEvent) => void,
  onNews: (news: CaptureNews) => void,
): OpenHearing {
  const worker = new Worker(new URL('./hear.worker.ts', import.meta.url), { type: 'module', name: 'ear' });
  const ask = (request: HearRequest, transfer: Transferable[] = []) => worker.postMessage(request, transfer);
  let open = true;
  worker.onmessage = (event: MessageEvent<HearAnswer>) => {
    if (!open) return;
    if (event.data.kind === 'ear') onEar(event.data.event);
    else onNews(event.data.news);
  };
  worker.onerror = (event) => {
    event.preventDefault();
    if (open) onNews({ kind: 'problem', problem: 'earFailed', detail: event.message });
  };
  const options: EarOptions = {
    sampleRateHz: source.sampleRateHz,
    settings: source.settings,
    ...(expected ? { expected } : {}),
  };
  const { port1, port2 } = new MessageChannel();
  ask({ kind: 'open', options, sound: port1, byTheClock: source.kind === 'microphone' }, [port1]);
  source.start(port2);
  return {
    expect: (next) => ask({ kind: 'expect', expected: next }),
    holdOff: (durationS) => ask({ kind: 'holdOff', durationS }),
    close: () => {
      open = false;
      source.stop();
      worker.terminate();
    },
  };
}
