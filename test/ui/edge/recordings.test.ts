import { describe, expect, it } from 'vitest';
import { readZip } from '../../../src/spokes/readZip.ts';
import { createRecordings } from '../../../src/ui/edge/recordings.ts';

const SOUND_BYTES = 1000;
const TEXTS = { 'wheel.json': '{}', 'report.csv': 'spoke' };

/** Of a device that keeps all sounds but one. */
const recordings = (mostBytes: number) =>
  createRecordings(
    {
      putRecording: () => Promise.reject(new RangeError('not asked for')),
      deleteRecordings: () => Promise.reject(new RangeError('not asked for')),
      recordingsSize: () => Promise.resolve({ count: 0, bytes: 0 }),
      getRecording: (id) =>
        Promise.resolve(
          id === 'gone' ? undefined : { id, wheelId: 'w', roundId: 'r', wav: new ArrayBuffer(SOUND_BYTES) },
        ),
    },
    mostBytes,
  );

async function namesIn(mostBytes: number, ids: readonly string[]): Promise<readonly (readonly string[])[]> {
  const archives: string[][] = [];
  for await (const bytes of recordings(mostBytes).archives(TEXTS, new Map(ids.map((id) => [id, `${id}.wav`])))) {
    const read = await readZip(bytes, () => Promise.reject(new RangeError('packed; expected stored')));
    if (!read.ok) throw new RangeError(read.reason);
    archives.push(read.entries.map(({ name }) => name));
  }
  return archives;
}

describe('recordings that are handed out', () => {
  it('are one archive as long as it can be read again, without those that are gone', async () => {
    expect(await namesIn(10_000, ['a', 'gone', 'b'])).toEqual([['wheel.json', 'report.csv', 'a.wav', 'b.wav']]);
    expect(await namesIn(10_000, [])).toEqual([['wheel.json', 'report.csv']]);
  });

  it('are several beyond that, each sound in one of them and the wheel in all', async () => {
    expect(await namesIn(2.5 * SOUND_BYTES, ['a', 'b', 'c', 'd', 'e'])).toEqual([
      ['wheel.json', 'report.csv', 'a.wav', 'b.wav'],
      ['wheel.json', 'report.csv', 'c.wav', 'd.wav'],
      ['wheel.json', 'report.csv', 'e.wav'],
    ]);
  });

  it('leave out none that is larger by itself', async () => {
    expect(await namesIn(SOUND_BYTES / 2, ['a', 'b'])).toHaveLength(2);
  });
});
