/**
 * The command line: reads files, prints one JSON object. Exit code 0: everything measured, and stored tensions found again; 1: something was
 * refused or came out otherwise; 2: nothing could be done.
 */
import { closeSync, existsSync, fstatSync, mkdirSync, openSync, readFileSync, readSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { expandLayout } from '../../spokes/expandLayout.ts';
import { chooseRounds } from '../chooseRounds.ts';
import type { Crediting } from '../creditSounds.ts';
import { explainSheet } from '../explainSheet.ts';
import { hearAgain } from '../hearAgain.ts';
import { type MeasureOptions, measure, type RecordingFile } from '../measure.ts';
import { type OpenedWheel, openWheel, tooLargeSentence } from '../openWheel.ts';
import { type MeasureArguments, readArguments, USAGE } from '../readArguments.ts';
import { readCues } from '../readCues.ts';
import { remeasure } from '../remeasure.ts';
import type { TaughtRows } from '../taughtRows.ts';
import { inflate } from './inflate.ts';

class Stop extends Error {}
const stop = (sentence: string): never => {
  throw new Stop(sentence);
};

function read(path: string, what: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    return stop(`The ${what} ${path} cannot be read: ${(error as Error).message}. Check the path.`);
  }
}

/** The wheel's file; one too large is told by its first bytes, before the rest is read. */
function readWheel(path: string): Uint8Array {
  const what = 'wheel file';
  const head = new Uint8Array(4);
  let sentence: string | undefined;
  try {
    const file = openSync(path, 'r');
    readSync(file, head);
    sentence = tooLargeSentence(path, head, fstatSync(file).size);
    closeSync(file);
  } catch {
    return read(path, what);
  }
  return sentence === undefined ? read(path, what) : stop(sentence);
}

function readRecording(path: string): RecordingFile {
  try {
    return { name: path, bytes: readFileSync(path) };
  } catch (error) {
    return { name: path, problem: (error as Error).message };
  }
}

function creditingOf(options: MeasureArguments, spokeCount: number): Crediting {
  const { spoke, from, leastPauseS, cuesPath } = options;
  const pause = leastPauseS === undefined ? {} : { leastPauseS };
  if ((spoke ?? from ?? 1) > spokeCount)
    return stop(`The wheel has ${spokeCount} spokes; there is no spoke ${spoke ?? from}.`);
  if (spoke !== undefined) return { by: 'spoke', spoke };
  if (from !== undefined) return { by: 'from', from, ...pause };
  if (cuesPath === undefined) return { by: 'round', ...pause };
  const cues = readCues(new TextDecoder().decode(read(cuesPath, 'cue list')), spokeCount);
  return cues.ok
    ? { by: 'cues', cues: cues.cues }
    : stop(`The cue list ${cuesPath} has a line that is no time and spoke: ${cues.detail}.`);
}

async function run(argv: readonly string[]): Promise<number> {
  const [command, ...rest] = argv;
  if (command !== 'measure' || rest.length === 0) return stop(USAGE);
  const taken = readArguments(rest);
  if (!taken.ok) return stop(`${taken.detail}\n\n${USAGE}`);
  if ('help' in taken) {
    console.log(USAGE);
    return 0;
  }
  const options = taken.arguments;
  const { wheelPath } = options;
  const opened = await openWheel(wheelPath, readWheel(wheelPath), inflate, options.which);
  if (!opened.ok) return stop(opened.sentence);
  for (const warning of opened.warnings) console.error(warning);
  if (opened.wheel.layout.kind === 'evenness')
    console.error(
      `${wheelPath} names only the sides of its spokes: each is laid beside its side’s mean, and no tension is computed.`,
    );
  const laid = expandLayout(opened.wheel.layout);
  if (!laid.ok)
    return stop(
      `The wheel ${wheelPath} cannot be laid out as described: ${laid.field} ${laid.reason} (${laid.detail}).`,
    );
  if (options.explainFolder !== undefined) makeFolder(options.explainFolder);
  return options.recordingPaths.length === 0
    ? storedRounds(opened, options)
    : recordings(opened, options, laid.spokes.length);
}

type Opened = Extract<OpenedWheel, { ok: true }>;

function recordings({ wheel }: Opened, options: MeasureArguments, spokeCount: number): number {
  const { crossing, direction } = options;
  const measured = measure(wheel, options.recordingPaths.map(readRecording), {
    crediting: creditingOf(options, spokeCount),
    ...(crossing && { crossing }),
    ...(direction && { direction }),
    ...explainIn(options.explainFolder),
  });
  console.log(JSON.stringify(measured, undefined, 2));
  return sayRefusals(measured) ? 0 : 1;
}

/** A wheel file or archive alone: its own rounds, and its own recordings where they are asked for. */
function storedRounds(
  { wheel, archive, stored, handedOut, recordings: sounds }: Opened,
  options: MeasureArguments,
): number {
  const chosen = chooseRounds(wheel, options.round);
  if (!chosen.ok) return stop(`${options.wheelPath} holds no round ${options.round}; there is: ${chosen.detail}.`);
  if (chosen.rounds.length === 0)
    return stop(`${options.wheelPath} holds no round. Name at least one recording.\n\n${USAGE}`);
  if (options.hearAgain && sounds.length === 0)
    return stop(`${options.wheelPath} holds no recordings: they are kept only where the app was told to keep them.`);
  const rounds = remeasure(wheel, chosen.rounds, stored);
  const again = chosen.rounds.map((round, i) =>
    options.hearAgain
      ? hearAgain(wheel, round, sounds, rounds[i]?.spokes ?? [], explainIn(options.explainFolder).explain)
      : undefined,
  );
  const printed = rounds.map((round, i) => ({ ...round, ...(again[i] && { heardAgain: again[i] }) }));
  console.log(JSON.stringify({ rounds: printed }, undefined, 2));
  if (archive && !handedOut) console.error('No tensions were handed out in this archive, so none are compared.');
  if (stored && wheel.layout.kind !== 'evenness' && !rounds.some((round) => round.stored))
    console.error(
      `The tensions handed out are of the round ${stored.roundId}, which was not computed, so none are compared.`,
    );
  const whole = rounds.map(({ number, spokes, stored: reproduction, ...taught }) => {
    const named = (sentence: string) => console.error(`round ${number}: ${sentence}`);
    if (spokes.length === 0)
      named(
        'no pluck of it counts, none is there or all were put aside, so no tension was computed. Name another round.',
      );
    for (const { spoke, advice } of spokes) if (advice) named(`spoke ${spoke}: ${advice}`);
    for (const sentence of taughtSentences(taught)) named(sentence);
    if (reproduction?.reproduced)
      named(
        `all ${reproduction.compared} tensions handed out come out again, the farthest to ${reproduction.largestDifferencePercent.toExponential(1)} %.`,
      );
    for (const { spoke, storedN, againN } of reproduction?.differing ?? [])
      named(
        `spoke ${spoke}: handed out as ${newtonText(storedN)}, computed again ${newtonText(againN)}. The wheel file was changed since, or another version computed it (${reproduction?.by}).`,
      );
    const measured = spokes.length > 0 && spokes.every(({ ok }) => ok);
    return measured && reproduction?.reproduced !== false && taughtWithoutDoubt(taught);
  });
  for (const [i, one] of again.entries())
    if (one?.largestDifferencePercent !== undefined)
      console.error(
        `round ${rounds[i]?.number}: heard again from ${one.recordings.length} recordings, ${one.compared} spokes: half of them within ${one.medianDifferencePercent?.toFixed(4)} % of the stored tones' tensions, the farthest ${one.largestDifferencePercent.toFixed(2)} % off.`,
      );
  const heard = again.map((one) => one === undefined || sayRefusals(one));
  return [...whole, ...heard].every(Boolean) ? 0 : 1;
}

const newtonText = (value: number | undefined): string =>
  value === undefined ? 'no tension' : `${value.toFixed(2)} N`;

/** @returns whether there was nothing to say. */
function sayRefusals({ recordings: files, spokes, ...taught }: ReturnType<typeof measure>): boolean {
  for (const { file, advice, truncated } of files) {
    if (advice) console.error(`${file}: ${advice}`);
    if (truncated) console.error(`${file}: the file ends before its announced length; what is there was heard.`);
  }
  // Where no file could be read at all, that no spoke was heard goes without saying.
  const read = files.some(({ ok }) => ok);
  for (const { spoke, advice, reason } of spokes)
    if (advice && (read || reason !== 'notHeard')) console.error(`spoke ${spoke}: ${advice}`);
  for (const sentence of taughtSentences(taught)) console.error(sentence);
  if (spokes.length === 0 && files.every(({ ok }) => ok))
    console.error('No sound of a plucked spoke was found. Record closer to the wheel, or check the level.');
  return files.every(({ ok }) => ok) && spokes.length > 0 && spokes.every(({ ok }) => ok) && taughtWithoutDoubt(taught);
}

/** Known tensions that were refused, and sides that they contradict. */
const taughtSentences = ({ groups, calibrations }: TaughtRows): readonly string[] => [
  ...groups.flatMap(({ group, advice }) => (advice ? [`${group}: ${advice}`] : [])),
  ...calibrations.flatMap(({ id, advice }) => (advice ? [`known tension ${id}: ${advice}`] : [])),
];

/** A known spoke that was not among the recordings is no failure of theirs. */
const taughtWithoutDoubt = ({ groups, calibrations }: TaughtRows): boolean =>
  groups.every(({ contradiction }) => !contradiction) &&
  calibrations.every(({ ok, reason }) => ok || reason === 'spokeNotHeard' || reason === 'kindNotHeard');

const explainIn = (folder: string | undefined): Pick<MeasureOptions, 'explain'> =>
  folder === undefined
    ? {}
    : {
        explain: ({ file, index, sampleRateHz, sound, pluck }) => {
          const name = `${basename(file).replace(/\.[^.]*$/, '')}-${String(index + 1).padStart(3, '0')}.svg`;
          const title = `${basename(file)}, sound ${index + 1}`;
          writeFileSync(join(folder, name), explainSheet(title, sampleRateHz, sound, pluck));
        },
      };

function makeFolder(path: string): void {
  try {
    if (!existsSync(path)) mkdirSync(path);
  } catch (error) {
    stop(`The folder ${path} cannot be made: ${(error as Error).message}. Name a folder whose parent exists.`);
  }
}

try {
  process.exitCode = await run(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof Stop)) throw error;
  console.error(error.message);
  process.exitCode = 2;
}
