import { decodeText } from '../../spokes/decodeText.ts';
import { tooLarge, tooLargeToWrite } from '../../spokes/fileSize.ts';
import { wheelEntryOf } from '../../spokes/readArchive.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import { writeWheelFile } from '../../spokes/wheelFile.ts';
import { writeWheels } from '../../spokes/wheelsFile.ts';
import { localDay } from '../text/localTime.ts';
import type { AppActions } from './appActions.ts';
import type { Desk } from './desk.ts';
import { incomingWheels } from './incomingWheels.ts';
import { mergeWheels } from './mergeWheels.ts';
import type { Messages } from './messageActions.ts';
import type { ZipReason } from './ports.ts';

const JSON_TYPE = 'application/json';

const ARCHIVE_TEXT: Readonly<Record<ZipReason, (detail: string) => string>> = {
  notZip: () => 'It is no ZIP archive: choose one that was exported here.',
  cutOff: () => 'The archive is cut off: copy it again from where it was made.',
  damaged: (file) => `In the archive ${file} does not fit its check sum: copy it again from where it was made.`,
  packed: (file) =>
    `In the archive ${file} is packed in a way that is not read here: unpack it and pack it again as plain ZIP.`,
  tooMany: () => 'The archive holds more than any from here: choose one that was exported here.',
};

interface IncomingRecording {
  readonly id: string;
  readonly wheelId: string;
  readonly roundId: string;
  readonly wav: Uint8Array;
}

/** Files out and in. What comes in passes the one gate, is shown first, and never deletes. */
export function fileActions({ get, set, ports }: Desk, { say }: Messages) {
  const hand = async (name: string, type: string, content: string | Uint8Array<ArrayBuffer>): Promise<boolean> => {
    const result = await ports.files.share(name, type, content);
    if (result === 'failed') say('shareFailed');
    if (result === 'shared' || result === 'downloaded') say('fileExported', name);
    return result === 'shared' || result === 'downloaded';
  };
  /** @returns undefined, and says so, where the file could not be read again. */
  const wheelText = (wheel: Wheel): string | undefined => {
    const text = writeWheelFile(wheel);
    const size = tooLargeToWrite(text);
    if (size === undefined) return text;
    say('wheelTooLarge', `“${wheel.name}” makes a file of ${size}`);
    return undefined;
  };
  const day = () => localDay(ports.clock.now());
  const refreshRecordings = async () => {
    const recordings = await ports.recordings.size();
    set({ files: { ...get().files, recordings } });
  };
  /** Of the archive that waits for yes or no. */
  let incoming: readonly IncomingRecording[] = [];
  const keepIncoming = async () => {
    const recordings = incoming;
    incoming = [];
    for (const recording of recordings) await ports.recordings.put(recording);
    if (recordings.length > 0) await refreshRecordings();
  };
  const actions = {
    exportWheel: async (id) => {
      const wheel = get().wheels.list.find((one) => one.id === id);
      if (!wheel) return;
      const text = wheelText(wheel);
      if (text !== undefined) await hand(`${fileNameOf(wheel.name)}.json`, JSON_TYPE, text);
    },
    exportEverything: async () => {
      const text = writeWheels(get().wheels.list);
      const size = tooLargeToWrite(text);
      if (size !== undefined) return say('backupTooLarge', size);
      const done = await hand(`wheels-${day()}.json`, JSON_TYPE, text);
      if (done) set({ preferences: { ...get().preferences, lastBackupAt: ports.clock.now() } });
    },
    shareFile: async (name, type, content) => {
      await hand(name, type, content);
    },
    readFile: async (file, name) => {
      let bytes: Uint8Array<ArrayBuffer>;
      try {
        const large = tooLarge(new Uint8Array(await file.slice(0, 4).arrayBuffer()), file.size);
        if (large) return say('fileTooLarge', `${name} has ${large.has}, and no more than ${large.most} are read`);
        bytes = new Uint8Array(await file.arrayBuffer());
      } catch {
        return say('fileUnreadable', name);
      }
      const zipped = bytes[0] === 0x50 && bytes[1] === 0x4b;
      const unpacked = zipped ? await ports.files.unpack(bytes) : undefined;
      if (unpacked?.ok === false) return say('fileBroken', ARCHIVE_TEXT[unpacked.reason](unpacked.detail));
      const inArchive = unpacked && wheelEntryOf(unpacked.entries);
      if (inArchive?.ok === false)
        return inArchive.reason === 'noWheel'
          ? say('fileNotOurs', name)
          : say(
              'fileBroken',
              `It holds several files of wheels (${inArchive.detail}): unpack it and choose one of them.`,
            );
      const found = inArchive?.entry;
      const text = decodeText(found?.bytes ?? bytes);
      const read = text.ok ? incomingWheels(text.text) : ({ ok: false, problem: 'fileNotJson' } as const);
      if (!read.ok) return say(read.problem, ('detail' in read ? read.detail : undefined) ?? name);
      if (read.ignored.length > 0) say('fileFieldsUnknown', some(read.ignored));
      if (read.foreign.length > 0) say('fileSpokesUnknown', some(read.foreign));
      const { list, preview } = mergeWheels(get().wheels.list, read.wheels);
      incoming = unpacked && found ? recordingsIn(read.wheels, list, unpacked.entries, found.name) : [];
      const importPreview = {
        fileName: name,
        ...preview,
        newIds: [...read.newIds, ...preview.newIds],
        ...(incoming.length > 0 ? { recordings: incoming.length } : {}),
      };
      set({ files: { ...get().files, importPreview } });
    },
    confirmImport: () => {
      const { importPreview } = get().files;
      if (!importPreview) return;
      const wheels = [...importPreview.added, ...importPreview.merged.map((item) => item.wheel)];
      const { list } = mergeWheels(get().wheels.list, wheels);
      set({
        wheels: { ...get().wheels, list },
        files: { ...get().files, importPreview: undefined },
      });
      say('fileImported', importPreview.fileName);
      void keepIncoming();
    },
    cancelImport: () => {
      incoming = [];
      set({ files: { ...get().files, importPreview: undefined } });
    },
    exportRecordings: async (wheelId, texts = {}) => {
      const wheel = get().wheels.list.find((one) => one.id === wheelId);
      if (!wheel) return;
      const text = wheelText(wheel);
      if (text === undefined) return;
      let count = 0;
      for await (const archive of ports.recordings.archives({ 'wheel.json': text, ...texts }, recordingNames(wheel))) {
        count++;
        const done = await hand(
          `${fileNameOf(wheel.name)}${count > 1 ? `-${count}` : ''}.zip`,
          'application/zip',
          archive,
        );
        if (!done) return;
      }
    },
    deleteRecordings: async () => {
      await ports.recordings.deleteAll();
      await refreshRecordings();
    },
  } satisfies Partial<AppActions>;
  return { actions, refreshRecordings };
}

const MOST_NAMED = 5;
const some = (names: readonly string[]): string =>
  `${names.slice(0, MOST_NAMED).join(', ')}${names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : ''}`;

/** Letters, digits and hyphens of any script: safe in every file system. */
export const fileNameOf = (name: string): string =>
  name
    .normalize('NFC')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60) || 'wheel';

/** By recording: which round, which spoke, which of its plucks, all counted from 1. */
export function recordingNames(wheel: Wheel): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  for (const [index, round] of wheel.rounds.entries()) {
    const counts = new Map<number, number>();
    for (const pluck of round.plucks) {
      const count = (counts.get(pluck.spoke) ?? 0) + 1;
      counts.set(pluck.spoke, count);
      if (pluck.recordingId)
        names.set(pluck.recordingId, `round-${index + 1}/spoke-${`${pluck.spoke}`.padStart(2, '0')}-${count}.wav`);
    }
  }
  return names;
}

/**
 * The recordings of an archive, under the ids that its wheel gives them. In one of several wheels nothing says whose they are.
 *
 * @param merged The wheels as they will be: a round of the archive may get an id of its own there, and its recordings follow it.
 * @param beside The wheel file's name in the archive: recordings lie in the same folder.
 */
function recordingsIn(
  wheels: readonly Wheel[],
  merged: readonly Wheel[],
  entries: readonly { readonly name: string; readonly bytes: Uint8Array }[],
  beside: string,
): readonly IncomingRecording[] {
  const [wheel, another] = wheels;
  if (wheel === undefined || another !== undefined) return [];
  const folder = beside.replace(/[^/]*$/, '');
  const byName = new Map(entries.map((entry) => [entry.name, entry.bytes]));
  const rounds = merged.find((one) => one.id === wheel.id)?.rounds ?? [];
  return [...recordingNames(wheel)].flatMap(([id, name]) => {
    const wav = byName.get(folder + name);
    const round = rounds.find((one) => one.plucks.some((pluck) => pluck.recordingId === id));
    return wav && round ? [{ id, wheelId: wheel.id, roundId: round.id, wav }] : [];
  });
}
