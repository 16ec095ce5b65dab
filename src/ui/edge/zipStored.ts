import { crc32 } from '../../spokes/crc32.ts';
import type { ZipEntry } from '../../spokes/readZip.ts';

const LOCAL_HEADER = 0x04034b50;
const CENTRAL_HEADER = 0x02014b50;
const END_RECORD = 0x06054b50;
const VERSION = 20;
/** Names are UTF-8. */
const UTF8_FLAG = 0x0800;

/**
 * Files side by side in one archive, uncompressed: sound hardly shrinks.
 *
 * @param at date that all entries get, to two seconds
 * @throws RangeError beyond 65 535 entries or 4 GB, which this form cannot hold
 * @source APPNOTE.TXT 6.3.10 (.ZIP File Format Specification), 4.3: method 0, local headers, central directory, end record
 */
export function zipStored(entries: readonly ZipEntry[], at: Date): Uint8Array<ArrayBuffer> {
  const named = entries.map(({ name, bytes }) => ({ name: new TextEncoder().encode(name), bytes, crc: crc32(bytes) }));
  const total = named.reduce((sum, { name, bytes }) => sum + 30 + 46 + 2 * name.length + bytes.length, 22);
  if (named.length > 0xffff || total > 0xffffffff)
    throw new RangeError(`archive of ${named.length} files, ${total} bytes; expected at most 65535 files and 4 GB`);
  const out = new Uint8Array(total);
  const view = new DataView(out.buffer);
  const stamp = dosTime(at);
  let end = 0;
  const put16 = (value: number) => {
    view.setUint16(end, value, true);
    end += 2;
  };
  const put32 = (value: number) => {
    view.setUint32(end, value, true);
    end += 4;
  };
  const put = (bytes: Uint8Array) => {
    out.set(bytes, end);
    end += bytes.length;
  };
  /** Fields that local and central header have in common. */
  const common = (entry: (typeof named)[number]) => {
    put16(VERSION);
    put16(UTF8_FLAG);
    put16(0);
    put16(stamp.time);
    put16(stamp.date);
    put32(entry.crc);
    put32(entry.bytes.length);
    put32(entry.bytes.length);
    put16(entry.name.length);
    put16(0);
  };
  const offsets = named.map((entry) => {
    const offset = end;
    put32(LOCAL_HEADER);
    common(entry);
    put(entry.name);
    put(entry.bytes);
    return offset;
  });
  const directory = end;
  for (const [index, entry] of named.entries()) {
    put32(CENTRAL_HEADER);
    put16(VERSION);
    common(entry);
    put16(0);
    put16(0);
    put16(0);
    put32(0);
    put32(offsets[index] ?? 0);
    put(entry.name);
  }
  const directorySize = end - directory;
  put32(END_RECORD);
  put16(0);
  put16(0);
  put16(named.length);
  put16(named.length);
  put32(directorySize);
  put32(directory);
  put16(0);
  return out;
}

/** @source APPNOTE.TXT 6.3.10, 4.4.6: date and time in MS-DOS format */
function dosTime(at: Date): { readonly time: number; readonly date: number } {
  return {
    time: (at.getHours() << 11) | (at.getMinutes() << 5) | (at.getSeconds() >> 1),
    date: (Math.max(0, at.getFullYear() - 1980) << 9) | ((at.getMonth() + 1) << 5) | at.getDate(),
  };
}
