import type { Wheel } from '../../spokes/wheel.ts';
import { readWheels } from '../../spokes/wheelsFile.ts';
import { wheelProblemText } from '../text/wheelProblemText.ts';
import type { WheelsNewId } from './appState.ts';
import type { FileProblem } from './message.ts';

export type IncomingWheels =
  | {
      readonly ok: true;
      readonly wheels: readonly Wheel[];
      /** Places of fields that the format does not know. */
      readonly ignored: readonly string[];
      /** Rounds with spokes that their wheel does not have: place, spokes and the wheel's own. */
      readonly foreign: readonly string[];
      /** What had the id of another in the file. */
      readonly newIds: readonly WheelsNewId[];
    }
  | { readonly ok: false; readonly problem: FileProblem; readonly detail?: string };

/** It begins as a wheel file does. */
const CUT_OFF = 'Its text breaks off or is damaged: copy it again from where it was made.';

/** The wheels of a file that was chosen, or the first thing that is wrong with it as a message of the app. */
export function incomingWheels(text: string): IncomingWheels {
  const read = readWheels(text);
  const notes = read.ok ? read.wheels.flatMap(({ ignored }) => ignored) : [];
  if (read.ok)
    return read.wheels.length === 0
      ? { ok: false, problem: 'fileEmpty' }
      : {
          ok: true,
          wheels: read.wheels.map(({ wheel }) => wheel),
          ignored: notes.filter(({ reason }) => reason === 'unknownField').map(({ path }) => path),
          foreign: notes
            .filter(({ reason }) => reason === 'noSuchSpoke')
            .map(({ path, detail }) => `${path} (${detail})`),
          newIds: read.wheels.flatMap(({ wheel, newIds }) => newIds.map((one) => ({ ...one, wheelName: wheel.name }))),
        };
  const [first] = read.problems;
  switch (first?.reason) {
    case 'notJson':
      return /^\uFEFF?\s*\{/.test(text)
        ? { ok: false, problem: 'fileBroken', detail: CUT_OFF }
        : { ok: false, problem: 'fileNotJson' };
    case 'notAWheelFile':
      return { ok: false, problem: 'fileNotOurs' };
    case 'newerVersion':
      return { ok: false, problem: 'fileNewer', detail: /^\d+/.exec(first.detail)?.[0] ?? '' };
    default:
      return { ok: false, problem: 'fileBroken', ...(first ? { detail: wheelProblemText(first) } : {}) };
  }
}
