import { decodeText } from './decodeText.ts';
import { type ReadingsRead, readReadings } from './readingsFile.ts';
import type { ZipEntry } from './readZip.ts';
import type { WheelRead } from './wheelFile.ts';
import type { WheelProblem } from './wheelProblem.ts';
import { readWheels } from './wheelsFile.ts';

/** The short sound of one pluck, as an archive keeps it. */
export interface ArchivedRecording {
  readonly name: string;
  /** From 1, in the wheel file's order. */
  readonly round: number;
  readonly spoke: number;
  readonly bytes: Uint8Array;
}

export type ArchiveRead =
  | {
      readonly ok: true;
      /** One, or every wheel of a device; none where it holds none. */
      readonly wheels: readonly Extract<WheelRead, { ok: true }>[];
      /** The tensions handed out with it, or why they cannot be read; absent: the archive has none. */
      readonly readings?: ReadingsRead;
      /** Of the one wheel: in an archive of several nothing says whose they are. */
      readonly recordings: readonly ArchivedRecording[];
    }
  | {
      readonly ok: false;
      /** `noWheel`: not an archive of this kind; `severalFiles`: of wheels, as several archives in one; `wheelRefused`: see `problems`. */
      readonly reason: 'noWheel' | 'severalFiles' | 'wheelRefused';
      readonly detail: string;
      readonly problems: readonly WheelProblem[];
    };

const RECORDING = /(?:^|\/)round-(\d+)\/spoke-(\d+)-\d+\.wav$/;

const WHEEL_FILE = /(?:^|\/)wheels?\.json$/;

/** The one file of an archive that holds its wheel or wheels, in a folder of any name. */
export function wheelEntryOf<Entry extends { readonly name: string }>(
  entries: readonly Entry[],
):
  | { readonly ok: true; readonly entry: Entry }
  | { readonly ok: false; readonly reason: 'noWheel' | 'severalFiles'; readonly detail: string } {
  const found = entries.filter(({ name }) => WHEEL_FILE.test(name));
  const [entry] = found;
  if (entry && found.length === 1) return { ok: true, entry };
  const named = entry ? found : entries;
  return { ok: false, reason: entry ? 'severalFiles' : 'noWheel', detail: named.map(({ name }) => name).join(', ') };
}

/** What an archive holds: the wheel or wheels, the tensions that were handed out, the sounds. It may lie in a folder of any name. */
export function readArchive(entries: readonly ZipEntry[]): ArchiveRead {
  const named = (name: string) => entries.find((entry) => entry.name === name || entry.name.endsWith(`/${name}`));
  const wheelEntry = wheelEntryOf(entries);
  if (!wheelEntry.ok) return { ...wheelEntry, problems: [] };
  const { entry: found } = wheelEntry;
  const text = decodeText(found.bytes);
  const read = readWheels(text.ok ? text.text : '');
  if (!read.ok) return { ok: false, reason: 'wheelRefused', detail: found.name, problems: read.problems };
  const readings = named('readings.json');
  const readingsText = readings && decodeText(readings.bytes);
  return {
    ok: true,
    wheels: read.wheels,
    ...(readingsText ? { readings: readReadings(readingsText.ok ? readingsText.text : '') } : {}),
    recordings: read.wheels.length > 1 ? [] : entries.flatMap(recordingOf),
  };
}

function recordingOf({ name, bytes }: ZipEntry): readonly ArchivedRecording[] {
  const [, round, spoke] = RECORDING.exec(name) ?? [];
  return round && spoke ? [{ name, round: Number(round), spoke: Number(spoke), bytes }] : [];
}
