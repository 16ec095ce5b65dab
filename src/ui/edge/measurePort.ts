import type { Wheel } from '../../spokes/wheel.ts';
import type { MeasurePort } from '../store/ports.ts';
import type { MeasureAnswer, MeasureRequest } from './measureProtocol.ts';

type Body<R = MeasureRequest> = R extends unknown ? Omit<R, 'id'> : never;

/**
 * The page's end of the measuring worker. The worker starts with the first question; if it breaks, what was asked fails and the
 * next question starts a new one.
 */
export function createMeasurePort(): MeasurePort {
  let worker: Worker | undefined;
  let lastId = 0;
  const waiting = new Map<number, { resolve: (answer: MeasureAnswer) => void; reject: (error: Error) => void }>();

  const breakDown = (message: string) => {
    worker?.terminate();
    worker = undefined;
    for (const { reject } of waiting.values()) reject(new Error(message));
    waiting.clear();
  };
  const start = () => {
    const started = new Worker(new URL('./measure.worker.ts', import.meta.url), { type: 'module', name: 'measure' });
    started.onmessage = (event: MessageEvent<MeasureAnswer>) => {
      const asked = waiting.get(event.data.id);
      waiting.delete(event.data.id);
      if (event.data.kind === 'failed') asked?.reject(new Error(event.data.message));
      else asked?.resolve(event.data);
    };
    started.onerror = (event) => {
      event.preventDefault();
      breakDown(event.message);
    };
    return started;
  };
  const ask = (body: Body): Promise<MeasureAnswer> => {
    worker ??= start();
    const id = ++lastId;
    const to = worker;
    return new Promise((resolve, reject) => {
      waiting.set(id, { resolve, reject });
      to.postMessage({ ...body, id } satisfies MeasureRequest);
    });
  };
  return {
    round: async (wheel, round) => {
      const answer = await ask({ kind: 'round', wheel: withRoundsThatTeach(wheel), round });
      if (answer.kind !== 'round') throw new Error(`measure.worker answered ${answer.kind}`);
      return answer.measured;
    },
    expected: async (wheel, spoke, how) => {
      const answer = await ask({ kind: 'expected', wheel: { ...wheel, rounds: [] }, spoke, how });
      if (answer.kind !== 'expected') throw new Error(`measure.worker answered ${answer.kind}`);
      return answer.expected;
    },
    expectedSpare: async (wheel, spare, how) => {
      const answer = await ask({ kind: 'expectedSpare', wheel: { ...wheel, rounds: [] }, spare, how });
      if (answer.kind !== 'expectedSpare') throw new Error(`measure.worker answered ${answer.kind}`);
      return answer.expected;
    },
    crossCalibrate: async (wheel, round, second) => {
      const answer = await ask({ kind: 'crossCalibrate', wheel: withRoundsThatTeach(wheel), round, second });
      if (answer.kind !== 'crossCalibrate') throw new Error(`measure.worker answered ${answer.kind}`);
      return answer.calibrated;
    },
    sheetTones: async (wheel, sheet, unit) => {
      const answer = await ask({ kind: 'sheetTones', wheel: { ...wheel, rounds: [] }, sheet, unit });
      if (answer.kind !== 'sheetTones') throw new Error(`measure.worker answered ${answer.kind}`);
      return answer.tones;
    },
  };
}

/** The worker needs no other rounds than those in which a known tension was heard. */
const withRoundsThatTeach = (wheel: Wheel): Wheel => {
  const teach = new Set(wheel.calibrations.flatMap(({ roundId }) => (roundId === undefined ? [] : [roundId])));
  return { ...wheel, rounds: wheel.rounds.filter((round) => teach.has(round.id)) };
};
