import { readZip, type ZipRead } from '../../spokes/readZip.ts';

/** Takes an archive apart with the browser's own decompression. */
export const unpackZip = (bytes: Uint8Array): Promise<ZipRead> => readZip(bytes, inflate);

/** @returns undefined if it does not unpack, or unpacks to more than was announced. */
async function inflate(raw: Uint8Array, announced: number): Promise<Uint8Array | undefined> {
  try {
    const stream = new Blob([raw as Uint8Array<ArrayBuffer>])
      .stream()
      .pipeThrough(new DecompressionStream('deflate-raw'));
    const reader = stream.getReader();
    const out = new Uint8Array(announced);
    let length = 0;
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      if (length + part.value.length > announced) return undefined;
      out.set(part.value, length);
      length += part.value.length;
    }
    return out.subarray(0, length);
  } catch {
    return undefined;
  }
}
