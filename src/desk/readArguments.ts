import { parseArgs } from 'node:util';
import type { How, Refusal } from '../contract.ts';

export interface MeasureArguments {
  readonly wheelPath: string;
  readonly recordingPaths: readonly string[];
  /** All plucks are of this spoke. */
  readonly spoke?: number;
  /** Groups are numbered on from this spoke. */
  readonly from?: number;
  readonly leastPauseS?: number;
  readonly cuesPath?: string;
  readonly crossing?: How['crossing'];
  readonly direction?: How['direction'];
  /** Folder for one drawing a pluck. */
  readonly explainFolder?: string;
}
export type ReadArguments = { readonly ok: true; readonly arguments: MeasureArguments } | Refusal<'usage'>;

export const USAGE = `npm run --silent measure -- --wheel WHEEL.json RECORDING.wav…
  without a recording     the rounds stored in the wheel file, computed again
  --spoke N               all plucks are of spoke N
  --from N                groups of plucks are spokes N, N + 1, … and may be fewer than the wheel has
  --cues CUES.csv         time in seconds and spoke number, one line a cue
  --pause SECONDS         the least pause between spokes (default: the longest pauses decide)
  --crossing held|free|none            how the crossing was (default: held where spokes touch)
  --direction in-plane|across|unknown  how the spokes were plucked (default: in-plane, along the rim)
  --explain FOLDER        one SVG a pluck: waveform, spectrum, tones with modes, decay`;

const CROSSINGS = ['held', 'free', 'none'] as const;
const DIRECTIONS = { 'in-plane': 'inPlane', across: 'across', unknown: 'unknown' } as const;

const usage = (detail: string): Refusal<'usage'> => ({ ok: false, reason: 'usage', detail });

/** Reads the command line; what is wrong is named. */
export function readArguments(argv: readonly string[]): ReadArguments {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(argv);
  } catch (error) {
    return usage((error as Error).message);
  }
  const { values, positionals } = parsed;
  const spoke = whole(values.spoke);
  const from = whole(values.from);
  const pause = values.pause === undefined ? undefined : Number(values.pause.replace(',', '.'));
  const direction = values.direction as keyof typeof DIRECTIONS | undefined;
  const crossing = CROSSINGS.find((word) => word === values.crossing);
  if (!values.wheel) return usage('--wheel WHEEL.json is missing');
  if (spoke === 'bad') return usage(`--spoke takes a whole number from 1, not "${values.spoke}"`);
  if (from === 'bad') return usage(`--from takes a whole number from 1, not "${values.from}"`);
  if (pause !== undefined && !(pause > 0)) return usage(`--pause takes seconds above 0, not "${values.pause}"`);
  if (values.crossing !== undefined && !crossing)
    return usage(`--crossing is held, free or none, not "${values.crossing}"`);
  if (direction !== undefined && !(direction in DIRECTIONS)) {
    return usage(`--direction is in-plane, across or unknown, not "${direction}"`);
  }
  if ([spoke, from, values.cues].filter((value) => value !== undefined).length > 1) {
    return usage('give only one of --spoke, --from and --cues');
  }
  return {
    ok: true,
    arguments: {
      wheelPath: values.wheel,
      recordingPaths: positionals,
      ...(spoke !== undefined && { spoke }),
      ...(from !== undefined && { from }),
      ...(pause !== undefined && { leastPauseS: pause }),
      ...(values.cues !== undefined && { cuesPath: values.cues }),
      ...(crossing && { crossing }),
      ...(direction && { direction: DIRECTIONS[direction] }),
      ...(values.explain !== undefined && { explainFolder: values.explain }),
    },
  };
}

const parse = (argv: readonly string[]) =>
  parseArgs({
    args: [...argv],
    allowPositionals: true,
    strict: true,
    options: {
      wheel: { type: 'string' },
      spoke: { type: 'string' },
      from: { type: 'string' },
      pause: { type: 'string' },
      cues: { type: 'string' },
      crossing: { type: 'string' },
      direction: { type: 'string' },
      explain: { type: 'string' },
    },
  });

function whole(text: string | undefined): number | undefined | 'bad' {
  if (text === undefined) return undefined;
  return /^[1-9]\d{0,3}$/.test(text) ? Number(text) : 'bad';
}
