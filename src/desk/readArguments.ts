import { parseArgs } from 'node:util';
import type { How, Refusal } from '../contract.ts';

export interface MeasureArguments {
  /** A wheel file, or an archive with one in it. */
  readonly wheelPath: string;
  readonly recordingPaths: readonly string[];
  /** Which of several wheels in it. */
  readonly which?: string;
  /** Which of the stored rounds; absent: all. */
  readonly round?: string;
  /** The archive's own recordings are heard again. */
  readonly hearAgain: boolean;
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
export type ReadArguments =
  | { readonly ok: true; readonly arguments: MeasureArguments }
  | { readonly ok: true; readonly help: true }
  | Refusal<'usage'>;

export const USAGE = `npm run --silent measure -- --wheel WHEEL.json RECORDING.wav…
npm run --silent measure -- ARCHIVE.zip (or WHEEL.json)
  without a recording     the rounds stored in the wheel file or archive, computed again; an archive's
                          own tensions must come out again to 0.01 %
  --archive ARCHIVE.zip   the same, named
  --which W               of a file of several wheels this one: its count from 1, its name or its id
  --round R               only this stored round: its count from 1, "last", its id or the day it was begun
  --hear-again            the archive's own recordings, heard again
  --spoke N               all plucks are of spoke N
  --from N                groups of plucks are spokes N, N + 1, … and may be fewer than the wheel has
  --cues CUES.csv         time in seconds and spoke number, one line a cue
  --pause SECONDS         the least pause between spokes (default: the longest pauses decide)
  --crossing held|free|none            how every crossing was (default: held where spokes touch)
  --direction in-plane|across|unknown  how every spoke was plucked (default: spoke by spoke as the app asks
                          for it: along the rim, uncrossed blades across the wheel)
  --explain FOLDER        one SVG a pluck: waveform, spectrum, tones with modes, decay
  --help, -h              prints this`;

const CROSSINGS = ['held', 'free', 'none'] as const;
const DIRECTIONS = { 'in-plane': 'inPlane', across: 'across', unknown: 'unknown' } as const;

const usage = (detail: string): Refusal<'usage'> => ({ ok: false, reason: 'usage', detail });

/** Reads the command line; what is wrong is named. */
export function readArguments(argv: readonly string[]): ReadArguments {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(argv);
  } catch (error) {
    // What follows tells how a file name may begin with a hyphen.
    return usage(/^[^.\n]*/.exec((error as Error).message)?.[0] ?? '');
  }
  const { values, positionals } = parsed;
  if (values.help) return { ok: true, help: true };
  const spoke = whole(values.spoke);
  const from = whole(values.from);
  const pause = values.pause === undefined ? undefined : Number(values.pause.replace(',', '.'));
  const direction = values.direction as keyof typeof DIRECTIONS | undefined;
  const crossing = CROSSINGS.find((word) => word === values.crossing);
  if (values.wheel && values.archive) return usage('give only one of --wheel and --archive');
  const named = values.wheel ?? values.archive;
  // An archive or a wheel file needs no option in front of it; beside a named one every plain argument is a recording.
  const alone = named === undefined && /\.(zip|json)$/i.test(positionals[0] ?? '');
  const wheelPath = alone ? positionals[0] : named;
  if (!wheelPath) return usage('a wheel file (WHEEL.json) or an archive (ARCHIVE.zip) is missing');
  const recordingPaths = alone ? positionals.slice(1) : positionals;
  const hearAgain = values['hear-again'] === true;
  if (recordingPaths.length > 0 && (values.round !== undefined || hearAgain))
    return usage('--round and --hear-again are for stored rounds; leave out the recordings');
  if (hearAgain && [spoke, from, pause, values.cues].some((value) => value !== undefined))
    return usage('--hear-again knows the spoke of each recording; leave out --spoke, --from, --pause and --cues');
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
      wheelPath,
      recordingPaths,
      hearAgain,
      ...(values.which !== undefined && { which: values.which }),
      ...(values.round !== undefined && { round: values.round }),
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
      archive: { type: 'string' },
      which: { type: 'string' },
      round: { type: 'string' },
      'hear-again': { type: 'boolean' },
      spoke: { type: 'string' },
      from: { type: 'string' },
      pause: { type: 'string' },
      cues: { type: 'string' },
      crossing: { type: 'string' },
      direction: { type: 'string' },
      explain: { type: 'string' },
      help: { type: 'boolean', short: 'h' },
    },
  });

function whole(text: string | undefined): number | undefined | 'bad' {
  if (text === undefined) return undefined;
  return /^[1-9]\d{0,3}$/.test(text) ? Number(text) : 'bad';
}
