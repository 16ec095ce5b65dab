import { encodeWav } from '../../audio/encodeWav.ts';
import { hertz } from '../../units.ts';
import type { RecordingsPort } from '../store/ports.ts';
import type { Database } from './database.ts';

/** Keeps the short sound of each taken pluck on this device, as WAV, where the person agreed to it. */
export function createRecordings(database: Database): RecordingsPort {
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
    archive: async (texts, names) => {
      const { zipStored } = await import('./zipStored.ts');
      const entries = Object.entries(texts).map(([name, text]) => ({ name, bytes: new TextEncoder().encode(text) }));
      for (const [id, name] of names) {
        const kept = await database.getRecording(id);
        if (kept) entries.push({ name, bytes: new Uint8Array(kept.wav) });
      }
      return zipStored(entries, new Date());
    },
    deleteAll: async () => {
      await database.deleteRecordings();
    },
  };
}
