import { createEar } from '../../../src/audio/createEar.ts';
import type { ExpectedAtTension } from '../../../src/contract.ts';
import { demoSound, patientHand } from '../../../src/ui/edge/demoSound.ts';
import { createMeasurer } from '../../../src/ui/edge/measurer.ts';
import { unpackZip } from '../../../src/ui/edge/unpackZip.ts';
import type { AppState } from '../../../src/ui/store/appState.ts';
import type { RunningApp } from '../../../src/ui/store/createApp.ts';
import { DEMO_RATE_HZ, demoOf } from '../../../src/ui/store/demoWheels.ts';
import { INITIAL_STATE } from '../../../src/ui/store/initialState.ts';
import type { FeedbackSignal, ListenHandlers, Opened, Ports } from '../../../src/ui/store/ports.ts';
import { hertz } from '../../../src/units.ts';

/** Loading has ended and nothing was kept. */
export const EMPTY_SHELF: AppState = { ...INITIAL_STATE, wheels: { ...INITIAL_STATE.wheels, status: 'ready' } };

/** Waits until the state is as wanted. */
export const until = (app: RunningApp, done: (state: AppState) => boolean, ms = 100_000) =>
  new Promise<AppState>((resolve, reject) => {
    const late = setTimeout(() => {
      stop();
      reject(new Error(`after ${ms} ms the state is not as wanted: ${done}`));
    }, ms);
    const check = () => {
      if (!done(app.store.getState())) return;
      clearTimeout(late);
      stop();
      resolve(app.store.getState());
    };
    const stop = app.store.subscribe(check);
    check();
  });

export interface Simulated {
  readonly ports: Ports;
  readonly signals: FeedbackSignal[];
  readonly spoken: string[];
  readonly shared: { readonly name: string; readonly content: string }[];
  readonly recordings: string[];
  readonly wake: string[];
  /** What the next opening of the microphone gives. */
  microphone: (handlers: ListenHandlers) => Promise<Opened>;
  /** Longest time that the demo may ring, in its own seconds. */
  patienceS: number;
  readonly expectations: (readonly ExpectedAtTension[] | undefined)[];
  readonly holdOffs: number[];
}

/** The world outside without a browser: the demo rings into the real ear, as fast as it can; everything else is written down. */
export function simulatedPorts(): Simulated {
  const measurer = createMeasurer();
  let ids = 0;
  let clock = Date.UTC(2026, 0, 1);
  const simulated: Simulated = {
    signals: [],
    spoken: [],
    shared: [],
    recordings: [],
    wake: [],
    expectations: [],
    holdOffs: [],
    patienceS: 200,
    microphone: () => Promise.resolve({ ok: false, problem: 'microphoneAbsent' }),
    ports: {
      clock: {
        now: () => {
          clock += 1000;
          return new Date(clock).toISOString();
        },
        newId: () => `id-${++ids}`,
      },
      listen: {
        microphone: (handlers) => simulated.microphone(handlers),
        file: () => Promise.resolve({ ok: false, problem: 'fileUnreadable' }),
        demo: (wheel, _options, askSpoke, handlers) =>
          Promise.resolve(ringDemo(simulated, wheel.id, askSpoke, handlers)),
      },
      measure: {
        round: (wheel, round) => Promise.resolve().then(() => measurer.round(wheel, round)),
        expected: (wheel, spoke, how) => Promise.resolve().then(() => measurer.expected(wheel, spoke, how)),
        expectedSpare: (wheel, spare, how) => Promise.resolve().then(() => measurer.expectedSpare(wheel, spare, how)),
        crossCalibrate: (wheel, round, second) =>
          Promise.resolve().then(() => measurer.crossCalibrate(wheel, round, second)),
        sheetTones: (wheel, sheet, unit) => Promise.resolve().then(() => measurer.sheetTones(wheel, sheet, unit)),
      },
      feedback: {
        unlock: () => {},
        give: (signal) => {
          simulated.signals.push(signal);
          return 0.1;
        },
        speak: (sentence) => {
          simulated.spoken.push(sentence);
          return 0.5;
        },
      },
      wakeLock: { hold: () => simulated.wake.push('hold'), release: () => simulated.wake.push('release') },
      files: {
        share: (name, _type, content) => {
          simulated.shared.push({
            name,
            content: typeof content === 'string' ? content : new TextDecoder().decode(content),
          });
          return Promise.resolve('downloaded');
        },
        unpack: unpackZip,
      },
      recordings: {
        keep: ({ id }) => {
          simulated.recordings.push(id);
          return Promise.resolve();
        },
        put: ({ id }) => {
          if (!simulated.recordings.includes(id)) simulated.recordings.push(id);
          return Promise.resolve();
        },
        size: () => Promise.resolve({ count: simulated.recordings.length, bytes: 0 }),
        archives: async function* (_texts, names) {
          yield new TextEncoder().encode([...names.values()].join(' '));
        },
        deleteAll: () => Promise.resolve(),
      },
      update: { apply: () => {} },
    },
  };
  return simulated;
}

function ringDemo(
  simulated: Simulated,
  wheelId: string,
  askSpoke: () => number | undefined,
  handlers: ListenHandlers,
): Opened {
  const demo = demoOf(wheelId);
  if (!demo) return { ok: false, problem: 'fileUnreadable' };
  const rate = hertz(DEMO_RATE_HZ);
  const ear = createEar({ sampleRateHz: rate, settings: { sampleRateHz: rate } });
  let heardS = 0;
  let open = true;
  const hand = patientHand(askSpoke, () => heardS);
  const sound = demoSound(demo, hand.ask, 24);
  const ring = async () => {
    const block = new Float32Array(4096);
    while (open && heardS < simulated.patienceS) {
      sound.next(block);
      heardS += block.length / DEMO_RATE_HZ;
      for (const event of ear.push(block)) {
        handlers.onEar(event);
        if (event.kind === 'heard') hand.answered();
      }
      // Answers of the measuring side come in between, as they do from a worker.
      await new Promise((resolve) => setImmediate(resolve));
    }
    if (open) handlers.onNews({ kind: 'ended' });
  };
  ring().catch((error: Error) => handlers.onNews({ kind: 'problem', problem: 'earFailed', detail: error.message }));
  return {
    ok: true,
    listening: {
      kind: 'demo',
      settings: { sampleRateHz: rate },
      expect: (expected) => {
        simulated.expectations.push(expected);
        ear.expect(expected);
      },
      holdOff: (durationS) => {
        simulated.holdOffs.push(durationS);
      },
      close: () => {
        open = false;
      },
    },
  };
}
