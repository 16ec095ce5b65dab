import { inflateRawSync, crc32 as zlibCrc32 } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../../src/spokes/crc32.ts';
import { zipStored } from '../../../src/ui/edge/zipStored.ts';

const text = (value: string) => new TextEncoder().encode(value);

/** Reads an archive by its central directory, as an unpacker does (APPNOTE.TXT 6.3.10, 4.3.12 and 4.3.16). */
function unpack(archive: Uint8Array) {
  const view = new DataView(archive.buffer);
  const end = archive.length - 22;
  expect(view.getUint32(end, true)).toBe(0x06054b50);
  const files: { name: string; bytes: Uint8Array; crc: number }[] = [];
  let at = view.getUint32(end + 16, true);
  for (let i = 0; i < view.getUint16(end + 10, true); i++) {
    expect(view.getUint32(at, true)).toBe(0x02014b50);
    const [method, crc, size, nameLength, local] = [
      view.getUint16(at + 10, true),
      view.getUint32(at + 16, true),
      view.getUint32(at + 20, true),
      view.getUint16(at + 28, true),
      view.getUint32(at + 42, true),
    ];
    const start = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    const stored = archive.subarray(start, start + size);
    files.push({
      name: new TextDecoder().decode(archive.subarray(at + 46, at + 46 + nameLength)),
      bytes: method === 0 ? stored : inflateRawSync(stored),
      crc,
    });
    at += 46 + nameLength;
  }
  return files;
}

describe('an archive of recordings', () => {
  it('has the check value of the standard', () => {
    // Check value of CRC-32/ISO-HDLC for "123456789": CRC catalogue of G. Cook.
    expect(crc32(text('123456789'))).toBe(0xcbf43926);
  });
  it('unpacks to what went in, names in any script', () => {
    const entries = [
      { name: 'wheel.json', bytes: text('{}') },
      { name: 'Speiche-05-größer.wav', bytes: Uint8Array.from({ length: 5000 }, (_, i) => i % 251) },
      { name: 'empty.wav', bytes: new Uint8Array(0) },
    ];
    const files = unpack(zipStored(entries, new Date(2026, 0, 2, 3, 4, 6)));
    expect(files.map(({ name, bytes }) => ({ name, bytes: [...bytes] }))).toEqual(
      entries.map(({ name, bytes }) => ({ name, bytes: [...bytes] })),
    );
    expect(files.map(({ crc }) => crc)).toEqual(entries.map(({ bytes }) => zlibCrc32(bytes)));
  });
});
