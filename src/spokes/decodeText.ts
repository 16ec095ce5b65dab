import { gatherText } from './gatherText.ts';

export type Decoded =
  | { readonly ok: true; readonly text: string; readonly encoding: 'UTF-8' | 'UTF-16' | 'Windows-1252' }
  | { readonly ok: false; readonly reason: 'notText'; readonly detail: string };

/** What Windows-1252 has between 0x80 and 0x9F. @source encoding.spec.whatwg.org, index windows-1252 */
const WINDOWS = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/**
 * Text of a file whose encoding nobody said: by its byte order mark, as UTF-8 if it is valid, otherwise as the old Windows one. Zero bytes
 * that fill one half of every pair are UTF-16 without its mark; any other file with zero bytes is no text.
 */
export function decodeText(bytes: Uint8Array): Decoded {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return utf16(bytes.subarray(2), true);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return utf16(bytes.subarray(2), false);
  const zero = bytes.indexOf(0);
  const half = zero < 0 ? undefined : zeroHalf(bytes);
  if (half !== undefined) return utf16(bytes, half === 'second');
  if (zero >= 0) return { ok: false, reason: 'notText', detail: `0x00 @ ${zero}` };
  const text = utf8(bytes);
  if (text !== undefined) return { ok: true, text: text.replace(/^\uFEFF/, ''), encoding: 'UTF-8' };
  const windows = gatherText();
  for (const byte of bytes) windows.add(byte >= 0x80 && byte < 0xa0 ? WINDOWS.charCodeAt(byte - 0x80) : byte);
  return { ok: true, text: windows.text(), encoding: 'Windows-1252' };
}

/** Text of Latin letters has zeros in so much of one half at least, and none in the other. */
const ZERO_SHARE = 0.75;

/** Which half of each pair of bytes is zero nearly throughout, while the other never is. */
function zeroHalf(bytes: Uint8Array): 'first' | 'second' | undefined {
  const zeros = [0, 0];
  for (const [i, byte] of bytes.entries()) if (byte === 0) zeros[i % 2] = (zeros[i % 2] ?? 0) + 1;
  const [first = 0, second = 0] = zeros;
  const enough = (ZERO_SHARE * bytes.length) / 2;
  if (first === 0 && second >= enough) return 'second';
  return second === 0 && first >= enough ? 'first' : undefined;
}

function utf16(bytes: Uint8Array, littleEndian: boolean): Decoded {
  if (bytes.length % 2 !== 0) return { ok: false, reason: 'notText', detail: `${bytes.length + 2}` };
  const units = gatherText();
  for (let i = 0; i < bytes.length; i += 2) {
    const [a = 0, b = 0] = [bytes[i], bytes[i + 1]];
    units.add(littleEndian ? a + 256 * b : 256 * a + b);
  }
  return { ok: true, text: units.text(), encoding: 'UTF-16' };
}

/** @returns undefined where the bytes are no UTF-8. @source RFC 3629, section 4 */
function utf8(bytes: Uint8Array): string | undefined {
  const out = gatherText();
  for (let i = 0; i < bytes.length; ) {
    const lead = bytes[i] ?? 0;
    const length =
      lead < 0x80
        ? 1
        : lead >= 0xc2 && lead < 0xe0
          ? 2
          : lead >= 0xe0 && lead < 0xf0
            ? 3
            : lead >= 0xf0 && lead < 0xf5
              ? 4
              : 0;
    if (length === 0 || i + length > bytes.length) return undefined;
    let point = length === 1 ? lead : lead & (0xff >> (length + 1));
    for (let k = 1; k < length; k++) {
      const next = bytes[i + k] ?? 0;
      if (next >> 6 !== 2) return undefined;
      point = point * 64 + (next & 0x3f);
    }
    const shortest = [0, 0, 0x80, 0x800, 0x10000][length] ?? 0;
    if (point < shortest || point > 0x10ffff || (point >= 0xd800 && point < 0xe000)) return undefined;
    out.add(point);
    i += length;
  }
  return out.text();
}
