import { crc32 } from './crc32.ts';
import { decodeText } from './decodeText.ts';
import { LARGEST_ARCHIVE, LARGEST_FILE } from './largestFile.ts';

/** One file of an archive. */
export interface ZipEntry {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export type ZipRead =
  | { readonly ok: true; readonly entries: readonly ZipEntry[] }
  /**
   * `cutOff`: the end is missing; `damaged`: a file's check sum or place does not fit; `packed`: a method that this
   * reader does not know; `tooMany`: more than an archive of ours ever holds.
   */
  | {
      readonly ok: false;
      readonly reason: 'notZip' | 'cutOff' | 'damaged' | 'packed' | 'tooMany';
      readonly detail: string;
    };

const LOCAL_HEADER = 0x04034b50;
const CENTRAL_HEADER = 0x02014b50;
const END_RECORD = 0x06054b50;
const END_LENGTH = 22;
const LONGEST_COMMENT = 0xffff;
const ENCRYPTED = 0x0001;
const STORED = 0;
const DEFLATED = 8;
const MOST_ENTRIES = 20_000;

/** Every archive begins so, unless it is empty. */
export const looksLikeZip = (bytes: Uint8Array): boolean =>
  bytes.length >= 4 && bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 0x03 || bytes[2] === 0x05);

/**
 * Takes an archive apart: stored files and deflated ones, so that one packed again elsewhere still comes in. All of it, or nothing.
 *
 * @param inflate Of the platform: raw deflate to as many bytes as announced, undefined if it does not unpack or unpacks to more.
 * @source APPNOTE.TXT 6.3.10 (.ZIP File Format Specification), 4.3: end record, central directory, local headers
 */
export async function readZip(
  bytes: Uint8Array,
  inflate: (raw: Uint8Array, announced: number) => Promise<Uint8Array | undefined>,
): Promise<ZipRead> {
  if (!looksLikeZip(bytes)) return { ok: false, reason: 'notZip', detail: '' };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view);
  if (end === undefined) return { ok: false, reason: 'cutOff', detail: `${bytes.length}` };
  const count = view.getUint16(end + 10, true);
  const size = view.getUint32(end + 12, true);
  const start = view.getUint32(end + 16, true);
  if (count > MOST_ENTRIES) return { ok: false, reason: 'tooMany', detail: `${count}` };
  if (start + size > end) return { ok: false, reason: 'cutOff', detail: `${bytes.length}` };
  const entries: ZipEntry[] = [];
  let at = start;
  let total = 0;
  for (let i = 0; i < count; i++) {
    if (at + 46 > end || view.getUint32(at, true) !== CENTRAL_HEADER)
      return { ok: false, reason: 'damaged', detail: 'its list of files' };
    const flags = view.getUint16(at + 8, true);
    const method = view.getUint16(at + 10, true);
    const crc = view.getUint32(at + 16, true);
    const packed = view.getUint32(at + 20, true);
    const unpacked = view.getUint32(at + 24, true);
    const nameLength = view.getUint16(at + 28, true);
    const extra = view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    const offset = view.getUint32(at + 42, true);
    const name = nameOf(bytes.subarray(at + 46, at + 46 + nameLength));
    at += 46 + nameLength + extra;
    if (name.endsWith('/')) continue;
    if (unpacked > LARGEST_FILE) return { ok: false, reason: 'tooMany', detail: `${name}, ${unpacked}` };
    total += unpacked;
    // A small file must not unfold into a device's whole memory.
    if (total > LARGEST_ARCHIVE) return { ok: false, reason: 'tooMany', detail: `${total}` };
    if ((flags & ENCRYPTED) !== 0 || (method !== STORED && method !== DEFLATED))
      return { ok: false, reason: 'packed', detail: name };
    if (offset + 30 > bytes.length || view.getUint32(offset, true) !== LOCAL_HEADER)
      return { ok: false, reason: 'damaged', detail: name };
    const from = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
    if (from + packed > start) return { ok: false, reason: 'damaged', detail: name };
    const raw = bytes.subarray(from, from + packed);
    const content = method === STORED ? raw : await inflate(raw, unpacked);
    if (content?.length !== unpacked || crc32(content) !== crc) return { ok: false, reason: 'damaged', detail: name };
    entries.push({ name, bytes: content });
  }
  return { ok: true, entries };
}

/** The last record of the file; a comment may follow it. */
function endRecord(view: DataView): number | undefined {
  const last = view.byteLength - END_LENGTH;
  for (let at = last; at >= Math.max(0, last - LONGEST_COMMENT); at--)
    if (view.getUint32(at, true) === END_RECORD && at + END_LENGTH + view.getUint16(at + 20, true) === view.byteLength)
      return at;
  return undefined;
}

function nameOf(bytes: Uint8Array): string {
  const name = decodeText(bytes);
  return name.ok ? name.text : `? ${name.detail}`;
}
