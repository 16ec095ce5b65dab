import { LARGEST_ARCHIVE, LARGEST_FILE } from './largestFile.ts';
import { looksLikeZip } from './readZip.ts';

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

export const inMegabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
