import { LARGEST_ARCHIVE, LARGEST_FILE } from './largestFile.ts';
import { looksLikeZip } from './readZip.ts';
import { utf8Length } from './utf8Length.ts';

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
  const most = looksLikeZip(head) ? LARGEST_ARCHIVE : LARGEST_FILE;
  return size > most ? { has: inMegabytes(size), most: inMegabytes(most) } : undefined;
}

/**
 * Whether the file of a text would be too large to be read again, and so of no use to whoever keeps it.
 *
 * @returns its size in words; undefined where it is not too large.
 */
export function tooLargeToWrite(text: string): string | undefined {
  const size = utf8Length(text);
  return size > LARGEST_FILE ? inMegabytes(size) : undefined;
}

export const inMegabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
