/** The command line: reads files, prints one JSON object. Exit code 0: everything measured; 1: something was refused; 2: nothing could be done. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { expandLayout } from '../../spokes/expandLayout.ts';
import { readWheelFile } from '../../spokes/wheelFile.ts';
import type { Crediting } from '../creditSounds.ts';
import { explainSheet } from '../explainSheet.ts';
import { measure, type RecordingFile, remeasure } from '../measure.ts';
import { type MeasureArguments, readArguments, USAGE } from '../readArguments.ts';
import { readCues } from '../readCues.ts';

class Stop extends Error {}
const stop = (sentence: string): never => {
  throw new Stop(sentence);
};

function readText(path: string, what: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    return stop(`The ${what} ${path} cannot be read: ${(error as Error).message}. Check the path.`);
  }
}

function readBytes(path: string): RecordingFile {
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
  const read = readCues(readText(cuesPath, 'cue list'), spokeCount);
  return read.ok
    ? { by: 'cues', cues: read.cues }
    : stop(`The cue list ${cuesPath} has a line that is no time and spoke: ${read.detail}.`);
}

function run(argv: readonly string[]): number {
  const [command, ...rest] = argv;
  if (command !== 'measure' || rest.length === 0) return stop(USAGE);
  const read = readArguments(rest);
  if (!read.ok) return stop(`${read.detail}\n\n${USAGE}`);
  const options = read.arguments;
  const file = readWheelFile(readText(options.wheelPath, 'wheel file'));
  if (!file.ok) {
    const problems = file.problems.map(({ path, reason, detail }) => `  ${path}: ${reason} (${detail})`);
    return stop(
      `The wheel file ${options.wheelPath} was refused:\n${problems.join('\n')}\ndocs/wheel-file.md tells what each field holds.`,
    );
  }
  for (const { path } of file.ignored)
    console.error(`${options.wheelPath}: the field ${path} is not known and was passed over.`);
  const laid = expandLayout(file.wheel.layout);
  if (!laid.ok)
    return stop(
      `The wheel ${options.wheelPath} cannot be laid out as described: ${laid.field} ${laid.reason} (${laid.detail}).`,
    );
  const { explainFolder, crossing, direction } = options;
  if (options.recordingPaths.length === 0) return again(file.wheel);
  if (explainFolder !== undefined) makeFolder(explainFolder);
  const measured = measure(file.wheel, options.recordingPaths.map(readBytes), {
    crediting: creditingOf(options, laid.spokes.length),
    ...(crossing && { crossing }),
    ...(direction && { direction }),
    ...(explainFolder !== undefined && {
      explain: ({ file: name, index, sampleRateHz, sound, pluck }) => {
        const sheet = `${basename(name).replace(/\.[^.]*$/, '')}-${String(index + 1).padStart(3, '0')}.svg`;
        writeFileSync(
          join(explainFolder, sheet),
          explainSheet(`${basename(name)}, sound ${index + 1}`, sampleRateHz, sound, pluck),
        );
      },
    }),
  });
  console.log(JSON.stringify(measured, undefined, 2));
  for (const { file: name, ok, reason, detail } of measured.recordings) {
    if (!ok) console.error(`${name}: ${reason}${detail ? ` (${detail})` : ''}`);
  }
  for (const { spoke, ok, reason, detail } of measured.spokes) {
    if (!ok) console.error(`spoke ${spoke}: ${reason}${detail ? ` (${detail})` : ''}`);
  }
  if (measured.spokes.length === 0)
    console.error('No sound of a plucked spoke was found. Record closer to the wheel, or check the level.');
  const whole =
    measured.recordings.every(({ ok }) => ok) && measured.spokes.length > 0 && measured.spokes.every(({ ok }) => ok);
  return whole ? 0 : 1;
}

/** A wheel file alone: its own rounds. */
function again(wheel: Parameters<typeof remeasure>[0]): number {
  const rounds = remeasure(wheel);
  if (rounds.length === 0) return stop(`Name at least one recording: the wheel file holds no round.\n\n${USAGE}`);
  console.log(JSON.stringify({ rounds }, undefined, 2));
  return rounds.every(({ spokes }) => spokes.length > 0 && spokes.every(({ ok }) => ok)) ? 0 : 1;
}

function makeFolder(path: string): void {
  try {
    if (!existsSync(path)) mkdirSync(path);
  } catch (error) {
    stop(`The folder ${path} cannot be made: ${(error as Error).message}. Name a folder whose parent exists.`);
  }
}

try {
  process.exitCode = run(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof Stop)) throw error;
  console.error(error.message);
  process.exitCode = 2;
}
