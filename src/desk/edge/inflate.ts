import { inflateRawSync } from 'node:zlib';

/** @returns undefined if it does not unpack, or unpacks to more than was announced. */
export function inflate(raw: Uint8Array, announced: number): Promise<Uint8Array | undefined> {
  try {
    return Promise.resolve(inflateRawSync(raw, { maxOutputLength: Math.max(1, announced) }));
  } catch {
    return Promise.resolve(undefined);
  }
}
