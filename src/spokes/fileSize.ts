import { looksLikeZip } from './readZip.ts';

/**
 * Bytes of a plain file of wheels. A round of 64 plucks takes 0.2 MB with four tones each, 0.4 MB with eight and 1 MB with sixteen, so
 * that this is some 60 to 400 rounds, and twice as many in a backup, which is not indented: a lower cap would refuse a workshop's own.
 */
export const LARGEST_PLAIN = 64_000_000;
/** Of an archive, whose recordings take most: some 50 kB a pluck. */
const LARGEST_ARCHIVE = 1_000_000_000;

export interface TooLarge {
  /** Of the file and of the largest that is read, in words. */
  readonly has: string;
  readonly most: string;
}

/**
 * Whether a file is too large to be read at all; asked before it is, for decoding it would take many times its size.
 *
 * @param head Its first four bytes at least: an archive may be larger than a plain file.
 * @returns undefined where it is not.
 */
export function tooLarge(head: Uint8Array, size: number): TooLarge | undefined {
  const most = looksLikeZip(head) ? LARGEST_ARCHIVE : LARGEST_PLAIN;
  return size > most ? { has: inMegabytes(size), most: inMegabytes(most) } : undefined;
}

export const inMegabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
