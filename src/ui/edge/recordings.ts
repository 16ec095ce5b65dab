import { encodeWav } from '../../audio/encodeWav.ts';
import { LARGEST_WRITTEN_ARCHIVE } from '../../spokes/largestFile.ts';
import { hertz } from '../../units.ts';
import type { RecordingsPort } from '../store/ports.ts';
import type { Database } from './database.ts';

/**
 * Keeps the short sound of each taken pluck on this device, as WAV, where the person agreed to it.
 *
 * @param mostBytes of the files in one archive; a single sound larger than that still gets one
 */
export function createRecordings(
  database: Pick<Database, 'putRecording' | 'getRecording' | 'recordingsSize' | 'deleteRecordings'>,
  mostBytes = LARGEST_WRITTEN_ARCHIVE,
): RecordingsPort {
  return {
    keep: async ({ id, wheelId, roundId, samples, sampleRateHz }) => {
      const bytes = encodeWav([samples], hertz(sampleRateHz));
      await database.putRecording({ id, wheelId, roundId, wav: bytes.buffer });
    },
    put: async ({ id, wheelId, roundId, wav }) => {
      if (await database.getRecording(id)) return;
      await database.putRecording({ id, wheelId, roundId, wav: wav.slice().buffer });
    },
    size: () => database.recordingsSize(),
    archives: async function* (texts, names) {
      const { zipStored } = await import('./zipStored.ts');
      const inAll = Object.entries(texts).map(([name, text]) => ({ name, bytes: new TextEncoder().encode(text) }));
      const sizeOf = (list: typeof inAll) => list.reduce((sum, { bytes }) => sum + bytes.length, 0);
      let sounds: typeof inAll = [];
      let size = sizeOf(inAll);
      for (const [id, name] of names) {
        const kept = await database.getRecording(id);
        if (!kept) continue;
        if (sounds.length > 0 && size + kept.wav.byteLength > mostBytes) {
          yield zipStored([...inAll, ...sounds], new Date());
          sounds = [];
          size = sizeOf(inAll);
        }
        sounds.push({ name, bytes: new Uint8Array(kept.wav) });
        size += kept.wav.byteLength;
      }
      yield zipStored([...inAll, ...sounds], new Date());
    },
    deleteAll: async () => {
      await database.deleteRecordings();
    },
  };
}
