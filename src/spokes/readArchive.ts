import { decodeText } from './decodeText.ts';
import { type ReadingsRead, readReadings } from './readingsFile.ts';
import type { ZipEntry } from './readZip.ts';
import type { Wheel } from './wheel.ts';
import { readWheelFile } from './wheelFile.ts';
import type { WheelProblem } from './wheelProblem.ts';

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
      readonly wheel: Wheel;
      readonly ignored: readonly WheelProblem[];
      /** The tensions handed out with it, or why they cannot be read; absent: the archive has none. */
      readonly readings?: ReadingsRead;
      readonly recordings: readonly ArchivedRecording[];
    }
  | {
      readonly ok: false;
      /** `noWheel`: not an archive of this kind; `manyWheels`: a whole device's; `wheelRefused`: see `problems`. */
      readonly reason: 'noWheel' | 'manyWheels' | 'wheelRefused';
      readonly detail: string;
      readonly problems: readonly WheelProblem[];
    };

const RECORDING = /(?:^|\/)round-(\d+)\/spoke-(\d+)-\d+\.wav$/;

/** What an archive of one wheel holds: the wheel, the tensions that were handed out, the sounds. It may lie in a folder of any name. */
export function readArchive(entries: readonly ZipEntry[]): ArchiveRead {
  const named = (name: string) => entries.find((entry) => entry.name === name || entry.name.endsWith(`/${name}`));
  const found = named('wheel.json');
  if (!found) {
    const refused = { ok: false, problems: [], detail: entries.map((entry) => entry.name).join(', ') } as const;
    return { ...refused, reason: named('wheels.json') ? 'manyWheels' : 'noWheel' };
  }
  const text = decodeText(found.bytes);
  const read = readWheelFile(text.ok ? text.text : '');
  if (!read.ok) return { ok: false, reason: 'wheelRefused', detail: found.name, problems: read.problems };
  const readings = named('readings.json');
  const readingsText = readings && decodeText(readings.bytes);
  return {
    ok: true,
    wheel: read.wheel,
    ignored: read.ignored,
    ...(readingsText ? { readings: readReadings(readingsText.ok ? readingsText.text : '') } : {}),
    recordings: entries.flatMap(({ name, bytes }) => {
      const [, round, spoke] = RECORDING.exec(name) ?? [];
      return round && spoke ? [{ name, round: Number(round), spoke: Number(spoke), bytes }] : [];
    }),
  };
}
