import type { Wheel } from '../../spokes/wheel.ts';
import { writeWheelFile } from '../../spokes/wheelFile.ts';
import type { AppActions } from './appActions.ts';
import type { Desk } from './createApp.ts';
import { mergeWheels } from './mergeWheels.ts';
import type { Messages } from './messageActions.ts';
import { readWheels, writeWheels } from './wheelsFile.ts';

const JSON_TYPE = 'application/json';

/** Files out and in. What comes in passes the one gate, is shown first, and never deletes. */
export function fileActions({ get, set, ports }: Desk, { say }: Messages) {
  const hand = async (name: string, type: string, content: string | Uint8Array<ArrayBuffer>): Promise<boolean> => {
    const result = await ports.files.share(name, type, content);
    if (result === 'failed') say('shareFailed');
    if (result === 'shared' || result === 'downloaded') say('fileExported', name);
    return result === 'shared' || result === 'downloaded';
  };
  const day = () => ports.clock.now().slice(0, 10);
  const refreshRecordings = async () => {
    const recordings = await ports.recordings.size();
    set({ files: { ...get().files, recordings } });
  };
  const actions = {
    exportWheel: async (id) => {
      const wheel = get().wheels.list.find((one) => one.id === id);
      if (wheel) await hand(`${fileNameOf(wheel.name)}.json`, JSON_TYPE, writeWheelFile(wheel));
    },
    exportEverything: async () => {
      const done = await hand(`wheels-${day()}.json`, JSON_TYPE, writeWheels(get().wheels.list));
      if (done) set({ preferences: { ...get().preferences, lastBackupAt: ports.clock.now() } });
    },
    shareFile: async (name, type, content) => {
      await hand(name, type, content);
    },
    readFile: async (file, name) => {
      let text: string;
      try {
        text = await file.text();
      } catch {
        return say('fileUnreadable', name);
      }
      const read = readWheels(text);
      if (!read.ok) return say(read.problem, read.detail ?? name);
      const importPreview = { fileName: name, ...mergeWheels(get().wheels.list, read.wheels).preview };
      set({ files: { ...get().files, importPreview } });
    },
    confirmImport: () => {
      const { importPreview } = get().files;
      if (!importPreview) return;
      const incoming = [...importPreview.added, ...importPreview.merged.map((item) => item.wheel)];
      const { list } = mergeWheels(get().wheels.list, incoming);
      set({
        wheels: { ...get().wheels, list },
        files: { ...get().files, importPreview: undefined },
      });
      say('fileImported', importPreview.fileName);
    },
    cancelImport: () => set({ files: { ...get().files, importPreview: undefined } }),
    exportRecordings: async (wheelId) => {
      const wheel = get().wheels.list.find((one) => one.id === wheelId);
      if (!wheel) return;
      const archive = await ports.recordings.archive({ 'wheel.json': writeWheelFile(wheel) }, recordingNames(wheel));
      await hand(`${fileNameOf(wheel.name)}.zip`, 'application/zip', archive);
    },
    deleteRecordings: async () => {
      await ports.recordings.deleteAll();
      await refreshRecordings();
    },
  } satisfies Partial<AppActions>;
  return { actions, refreshRecordings };
}

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
