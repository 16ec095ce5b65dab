import type { EarEvent } from '../../audio/earEvent.ts';
import { settle } from '../../spokes/settle.ts';
import type { Pluck } from '../../spokes/wheel.ts';
import type { AppActions } from './appActions.ts';
import type { SpareHearing } from './appState.ts';
import type { Desk } from './desk.ts';
import type { EarUser, ListenActions } from './listenActions.ts';
import { ROOM_SOUNDS, signaller } from './roundSignals.ts';

/** As many as settle a spoke of a wheel. */
const PLUCKS = 2;

/** Hears a loose spoke under a known load through the same ear, told what its member would ring like. Nothing is credited to a wheel. */
export function spareActions(desk: Desk, { listenFor, stop }: Pick<ListenActions, 'listenFor' | 'stop'>) {
  const { get, set, ports, live } = desk;
  const signal = signaller(desk);
  const put = (part: Partial<SpareHearing>) => {
    const { spare } = get();
    if (spare) set({ spare: { ...spare, ...part } });
  };

  const actions = {
    hearSpare: (wheelId, spare, how) => {
      const wheel = get().wheels.list.find((one) => one.id === wheelId);
      if (!wheel) return Promise.resolve();
      set({ spare: { wheelId, plucks: [], agreeing: [], settled: false, refused: undefined } });
      const hear = (event: Extract<EarEvent, { kind: 'heard' }>) => {
        const { heard } = event;
        const known = get().spare;
        if (!known) return;
        if (!heard.ok) {
          put({ refused: heard.reason });
          if (!ROOM_SOUNDS.has(heard.reason)) signal('refused');
          return;
        }
        const { tones, covarianceHz2, hypotheses, flags } = heard;
        const id = ports.clock.newId();
        const pluck: Pluck = { id, at: ports.clock.now(), spoke: 1, how, tones, covarianceHz2, hypotheses, flags };
        const plucks = [...known.plucks, pluck];
        const { state, agreeing } = settle(plucks, PLUCKS, []);
        const settled = state === 'settled';
        put({ plucks, agreeing, settled, refused: undefined });
        signal(settled ? 'settled' : 'taken');
      };
      const user: EarUser = {
        onEar: (event) => {
          const { listening } = get();
          if (event.kind === 'level' && listening.level !== event.level)
            set({ listening: { ...listening, level: event.level } });
          if (event.kind === 'heard') hear(event);
        },
        soundBegan: () => {
          const { listening } = live;
          void ports.measure.expectedSpare(wheel, spare, how).then(
            (expected) => live.listening === listening && listening?.expect(expected),
            // Without expected tones the ear still hears; only its numbering is a guess.
            () => undefined,
          );
        },
        soundEnded: () => undefined,
      };
      return listenFor(user);
    },
    forgetSpare: () => {
      if (!get().spare) return;
      stop();
      set({ spare: undefined });
    },
  } satisfies Partial<AppActions>;
  return { actions };
}
