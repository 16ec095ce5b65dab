import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../../src/spokes/crc32.ts';
import { LARGEST_FILE } from '../../../src/spokes/largestFile.ts';
import { writeWheels } from '../../../src/spokes/wheelsFile.ts';
import { unpackZip as readZip } from '../../../src/ui/edge/unpackZip.ts';
import { zipStored } from '../../../src/ui/edge/zipStored.ts';
import { createApp } from '../../../src/ui/store/createApp.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { EMPTY_SHELF, simulatedPorts } from '../store/simulatedPorts.ts';

const text = (value: string) => new TextEncoder().encode(value);
const AT = new Date(2026, 0, 2, 3, 4, 6);
const FILES = [
  { name: 'wheel.json', bytes: text('{"a":1}') },
  { name: 'round-1/spoke-05-1.wav', bytes: Uint8Array.from({ length: 3000 }, (_, i) => (i * 7) % 253) },
];
const archive = zipStored(FILES, AT);
const FILES_HEAD = archive.slice(0, 4);

describe('an archive read back', () => {
  it('gives what went in', async () => {
    const read = await readZip(archive);
    expect(read.ok && read.entries.map(({ name, bytes }) => [name, [...bytes]])).toEqual(
      FILES.map(({ name, bytes }) => [name, [...bytes]]),
    );
  });

  it('cut off anywhere gives nothing at all, and never throws', async () => {
    for (let length = 4; length < archive.length; length += 37) {
      const read = await readZip(archive.slice(0, length));
      expect(read.ok, `${length} bytes`).toBe(false);
    }
  });

  it('with any one bit changed gives what went in, or is refused with a reason, and never throws', async () => {
    const content = FILES.map(({ bytes }) => [...bytes].join());
    for (let at = 0; at < archive.length; at += at < archive.length - 400 && at > 100 ? 53 : 1) {
      const spoiled = archive.slice();
      spoiled[at] = (spoiled[at] ?? 0) ^ 1;
      const read = await readZip(spoiled);
      if (read.ok) for (const { bytes } of read.entries) expect(content).toContain([...bytes].join());
      else expect(read.detail || read.reason, `byte ${at}`).not.toBe('');
    }
  });

  it('that announces a file longer than any of a wheel is refused before it is unpacked', async () => {
    const vast = archive.slice();
    const view = new DataView(vast.buffer);
    // The list of files: signature 0x02014b50, unpacked size at 24 (APPNOTE.TXT 4.3.12).
    let at = 0;
    while (view.getUint32(at, true) !== 0x02014b50) at++;
    // The same bound as a plain file's: what is read by itself is read in an archive, and the other way round.
    view.setUint32(at + 24, LARGEST_FILE, true);
    expect(await readZip(vast)).toMatchObject({ ok: false, reason: 'damaged' });
    view.setUint32(at + 24, LARGEST_FILE + 1, true);
    expect(await readZip(vast)).toEqual({ ok: false, reason: 'tooMany', detail: `wheel.json, ${LARGEST_FILE + 1}` });
  });

  it('with a byte changed in a file is refused by that file’s name', async () => {
    const spoiled = archive.slice();
    const at = 30 + 'wheel.json'.length;
    spoiled[at] = (spoiled[at] ?? 0) ^ 1;
    expect(await readZip(spoiled)).toEqual({ ok: false, reason: 'damaged', detail: 'wheel.json' });
  });

  it.skipIf(spawnSync('python3', ['--version']).status !== 0)(
    'is read after a common packer has packed the same files anew, and that packer reads ours',
    async () => {
      const folder = mkdtempSync(join(tmpdir(), 'ringtrue-zip-'));
      try {
        writeFileSync(join(folder, 'ours.zip'), archive);
        // Python’s zipfile: another implementation of the same specification.
        const script = [
          'import zipfile,sys',
          'z=zipfile.ZipFile("ours.zip")',
          'assert z.testzip() is None',
          'o=zipfile.ZipFile("theirs.zip","w",zipfile.ZIP_DEFLATED)',
          '[o.writestr(n,z.read(n)) for n in z.namelist()]',
          'o.close()',
        ].join('\n');
        execFileSync('python3', ['-c', script], { cwd: folder });
        const read = await readZip(new Uint8Array(readFileSync(join(folder, 'theirs.zip'))));
        expect(read.ok && read.entries.map(({ name, bytes }) => [name, [...bytes]])).toEqual(
          FILES.map(({ name, bytes }) => [name, [...bytes]]),
        );
      } finally {
        rmSync(folder, { recursive: true });
      }
    },
  );

  it('that unfolds to more than it announces is refused', async () => {
    // One entry, deflated by zlib, announcing a hundred bytes of the thousand.
    const packed = deflateRawSync(new Uint8Array(1000));
    const bomb = zipStored([{ name: 'wheel.json', bytes: new Uint8Array(packed) }], AT);
    const view = new DataView(bomb.buffer);
    const central = view.getUint32(bomb.length - 6, true);
    view.setUint16(central + 10, 8, true);
    view.setUint32(central + 16, crc32(new Uint8Array(100)), true);
    view.setUint32(central + 24, 100, true);
    expect(await readZip(bomb)).toMatchObject({ ok: false, reason: 'damaged' });
  });
});

describe('taking an archive in', () => {
  const heard = () => {
    const { wheel } = demoWheel('steelRear');
    const pluck = {
      id: 'p',
      at: '2026-01-01T00:00:00.000Z',
      spoke: 5,
      how: { crossing: 'held', direction: 'inPlane' },
      tones: [],
      covarianceHz2: [],
      hypotheses: [],
      flags: [],
      recordingId: 'rec-1',
    } as const;
    const round = {
      id: 'r',
      startedAt: '2026-01-01T00:00:00.000Z',
      how: pluck.how,
      state: { tyre: 'off' },
      order: 'byPlace',
      plucksToSettle: 2,
      plucks: [pluck],
      skipped: [],
    } as const;
    return { ...wheel, rounds: [round] };
  };
  const pack = (json: string) =>
    new Blob([zipStored([{ name: 'wheels.json', bytes: text(json) }, FILES[1] as (typeof FILES)[1]], AT)]);

  it('shows what comes, brings wheel and recordings, and nothing before it is confirmed', async () => {
    const simulated = simulatedPorts();
    const app = createApp(simulated.ports, EMPTY_SHELF);
    await app.actions.readFile(pack(writeWheels([heard()])), 'backup.zip');
    expect(app.store.getState().files.importPreview).toMatchObject({ fileName: 'backup.zip', recordings: 1 });
    expect(app.store.getState().wheels.list).toEqual([]);
    expect(simulated.recordings).toEqual([]);
    app.actions.confirmImport();
    await new Promise((resolve) => setTimeout(resolve));
    expect(app.store.getState().wheels.list.map((wheel) => wheel.id)).toEqual(['demo-steel-rear']);
    expect(simulated.recordings).toEqual(['rec-1']);
  });

  it('where its round gets a new id beside one of the same id, its recordings follow it there', async () => {
    const simulated = simulatedPorts();
    const put: { id: string; roundId: string }[] = [];
    const recordings = {
      ...simulated.ports.recordings,
      put: async (one: { id: string; roundId: string }) => void put.push(one),
    };
    const app = createApp({ ...simulated.ports, recordings }, EMPTY_SHELF);
    const mine = heard();
    const rounds = mine.rounds.map((round) => ({
      ...round,
      plucks: round.plucks.map((pluck) => ({ ...pluck, id: 'other', recordingId: 'rec-0' })),
    }));
    app.actions.saveWheel({ ...mine, rounds });
    await app.actions.readFile(pack(writeWheels([heard()])), 'backup.zip');
    const [newId] = app.store.getState().files.importPreview?.newIds ?? [];
    expect(newId).toMatchObject({ what: 'round', was: 'r' });
    app.actions.confirmImport();
    await new Promise((resolve) => setTimeout(resolve));
    expect(app.store.getState().wheels.list[0]?.rounds.map(({ id }) => id)).toEqual(['r', newId?.now]);
    expect(put.map(({ id, roundId }) => [id, roundId])).toEqual([['rec-1', newId?.now]]);
  });

  it('packed anew inside a folder, it brings its recordings too; of several wheels none, for nothing says whose they are', async () => {
    const recordingsOf = async (folder: string, json: string) => {
      const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
      const [, wav] = FILES as [(typeof FILES)[0], (typeof FILES)[0]];
      const files = [
        { name: `${folder}wheels.json`, bytes: text(json) },
        { name: folder + wav.name, bytes: wav.bytes },
      ];
      await app.actions.readFile(new Blob([zipStored(files, AT)]), 'backup.zip');
      return app.store.getState().files.importPreview?.recordings;
    };
    expect(await recordingsOf('somewhere/deep/', writeWheels([heard()]))).toBe(1);
    expect(await recordingsOf('', writeWheels([heard(), { ...heard(), id: 'other', name: 'Other' }]))).toBeUndefined();
  });

  it('a declined one leaves nothing behind', async () => {
    const simulated = simulatedPorts();
    const app = createApp(simulated.ports, EMPTY_SHELF);
    await app.actions.readFile(pack(writeWheels([heard()])), 'backup.zip');
    app.actions.cancelImport();
    app.actions.confirmImport();
    expect(app.store.getState().wheels.list).toEqual([]);
    expect(simulated.recordings).toEqual([]);
  });

  it.each([
    ['cut off half-way', (bytes: Uint8Array) => bytes.slice(0, bytes.length / 2), 'fileBroken'],
    [
      'from a newer version',
      () =>
        zipStored([{ name: 'wheels.json', bytes: text('{"format":"ringtrue-wheels","version":9,"wheels":[]}') }], AT),
      'fileNewer',
    ],
    ['without a wheel', () => zipStored([{ name: 'readme.txt', bytes: text('hello') }], AT), 'fileNotOurs'],
  ] as const)('%s, it is refused with a reason and nothing is half imported', async (_, spoil, code) => {
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    const whole = new Uint8Array(await pack(writeWheels([heard()])).arrayBuffer());
    await app.actions.readFile(new Blob([spoil(whole) as Uint8Array<ArrayBuffer>]), 'backup.zip');
    const state = app.store.getState();
    expect(state.messages.map((message) => message.code)).toEqual([code]);
    expect(state.files.importPreview).toBeUndefined();
    expect(state.wheels.list).toEqual([]);
  });

  it('a file larger than any that is read is told by its size, before it is read', async () => {
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    const unread = (size: number, head: Uint8Array<ArrayBuffer>) =>
      Object.assign(new Blob([head]), { arrayBuffer: () => Promise.reject(new Error(`${size} bytes read`)) });
    const sized = (size: number, head: Uint8Array<ArrayBuffer>) =>
      Object.defineProperty(unread(size, head), 'size', { value: size });
    await app.actions.readFile(sized(100_000_000, new Uint8Array(text('{   '))), 'big.json');
    expect(app.store.getState().messages).toMatchObject([
      { code: 'fileTooLarge', detail: 'big.json has 100 MB, and no more than 64 MB are read' },
    ]);
    // An archive of as much holds recordings and is read on.
    await app.actions.readFile(sized(100_000_000, new Uint8Array(FILES_HEAD)), 'big.zip');
    expect(app.store.getState().messages.map(({ code }) => code)).toEqual(['fileTooLarge', 'fileUnreadable']);
  });

  it('with a field that is not known, it says which before anything is taken', async () => {
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    const misspelt = writeWheels([heard()]).replace('"targetPercent"', '"crossingFromHub": 70, "targetPercent"');
    await app.actions.readFile(pack(misspelt), 'backup.zip');
    expect(app.store.getState().messages).toMatchObject([
      { code: 'fileFieldsUnknown', weight: 'warning', detail: 'wheel.crossingFromHub' },
    ]);
    expect(app.store.getState().files.importPreview?.added).toHaveLength(1);
  });

  it('with a byte changed, the file that it is in is named', async () => {
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    const bytes = new Uint8Array(await pack(writeWheels([heard()])).arrayBuffer());
    bytes[60] = (bytes[60] ?? 0) ^ 1;
    await app.actions.readFile(new Blob([bytes]), 'backup.zip');
    const [message] = app.store.getState().messages;
    expect(message?.code).toBe('fileBroken');
    expect(JSON.stringify(message)).toContain('In the archive wheels.json does not fit its check sum');
    expect(app.store.getState().files.importPreview).toBeUndefined();
  });

  it('gauge readings of both devices are kept when wheels are merged', async () => {
    const gauge = (rounds: readonly string[]) => ({
      id: 'g',
      name: 'Gauge',
      scale: 'direct' as const,
      unit: 'N' as const,
      rounds: rounds.map((id) => ({
        id,
        at: '2026-01-01T00:00:00.000Z',
        state: { tyre: 'off' as const },
        readings: [{ spoke: 1, values: [900] }],
      })),
    });
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    app.actions.saveWheel(heard());
    app.actions.saveGauges('demo-steel-rear', [gauge(['a'])]);
    await app.actions.readFile(new Blob([writeWheels([{ ...heard(), gauges: [gauge(['b'])] }])]), 'other.json');
    app.actions.confirmImport();
    const [wheel] = app.store.getState().wheels.list;
    expect(wheel?.gauges?.[0]?.rounds.map((round) => round.id)).toEqual(['a', 'b']);
  });
});
