import { decodeText } from '../spokes/decodeText.ts';
import { tooLarge } from '../spokes/fileSize.ts';
import type { NewId } from '../spokes/ownIds.ts';
import { type ArchivedRecording, type ArchiveRead, readArchive } from '../spokes/readArchive.ts';
import type { StoredReadings } from '../spokes/readingsFile.ts';
import { looksLikeZip, readZip, type ZipRead } from '../spokes/readZip.ts';
import type { Wheel } from '../spokes/wheel.ts';
import type { WheelProblem } from '../spokes/wheelProblem.ts';
import { readWheels } from '../spokes/wheelsFile.ts';
import { chooseWheel } from './chooseWheel.ts';
import { weighingWarnings } from './weighingWarnings.ts';

export type OpenedWheel =
  | {
      readonly ok: true;
      readonly wheel: Wheel;
      readonly archive: boolean;
      /** Sentences: what was passed over. */
      readonly warnings: readonly string[];
      readonly stored?: StoredReadings;
      /** Whether tensions were handed out with it, readable or not. */
      readonly handedOut: boolean;
      readonly recordings: readonly ArchivedRecording[];
    }
  /** One sentence or more, with what to do. */
  | { readonly ok: false; readonly sentence: string };

const ZIP_TEXT: Readonly<Record<Extract<ZipRead, { ok: false }>['reason'], (detail: string) => string>> = {
  notZip: () => 'is no archive. Name the ZIP file that the app handed out.',
  cutOff: (bytes) =>
    `is cut off (${bytes} bytes are there). Copy it again from where it was made; nothing was taken from it.`,
  damaged: (file) => `is damaged: ${file} does not fit its check sum. Copy it again; nothing was taken from it.`,
  packed: (file) =>
    `holds ${file} packed in a way that is not read here. Unpack it with another program and pack it as plain ZIP.`,
  tooMany: (detail) => `holds more than any archive of a wheel (${detail}). It is not one from the app.`,
};

/**
 * A wheel from the bytes of its file, of a file of many wheels, or of the archive that holds either.
 *
 * @param name For sentences.
 * @param inflate Of the platform, see `readZip`.
 * @param which Of several wheels, see `chooseWheel`.
 */
export async function openWheel(
  name: string,
  bytes: Uint8Array,
  inflate: Parameters<typeof readZip>[1],
  which?: string,
): Promise<OpenedWheel> {
  const large = tooLargeSentence(name, bytes, bytes.length);
  if (large !== undefined) return { ok: false, sentence: large };
  if (!looksLikeZip(bytes)) {
    const text = decodeText(bytes);
    if (!text.ok)
      return { ok: false, sentence: `${name} is neither a wheel file nor an archive: it is no text and no ZIP file.` };
    const read = readWheels(text.text);
    if (!read.ok) return { ok: false, sentence: wheelRefused(name, read.problems) };
    return opened(name, { ...read, recordings: [] }, false, which);
  }
  const zip = await readZip(bytes, inflate);
  if (!zip.ok) return { ok: false, sentence: `The archive ${name} ${ZIP_TEXT[zip.reason](zip.detail)}` };
  const archive = readArchive(zip.entries);
  if (archive.ok) return opened(name, archive, true, which);
  if (archive.reason === 'wheelRefused')
    return { ok: false, sentence: wheelRefused(`${name}, ${archive.detail}`, archive.problems) };
  if (archive.reason === 'severalFiles')
    return {
      ok: false,
      sentence: `The archive ${name} holds several files of wheels: ${archive.detail.slice(0, 200)}. Unpack it and name one of them.`,
    };
  return {
    ok: false,
    sentence: `The archive ${name} holds no wheel.json, so it is none of a wheel. It holds: ${archive.detail.slice(0, 200) || 'nothing'}.`,
  };
}

/**
 * Of a file that is not to be read.
 *
 * @param head Its first four bytes at least.
 */
export function tooLargeSentence(name: string, head: Uint8Array, size: number): string | undefined {
  const large = tooLarge(head, size);
  return (
    large &&
    `${name} has ${large.has}, and no more than ${large.most} are read. Nothing was read; name the file of one wheel.`
  );
}

function opened(
  name: string,
  { wheels, readings, recordings }: Omit<Extract<ArchiveRead, { ok: true }>, 'ok'>,
  archive: boolean,
  which: string | undefined,
): OpenedWheel {
  const chosen = chooseWheel(wheels, which);
  if (!chosen.ok) return { ok: false, sentence: WHICH_TEXT[chosen.reason](name, chosen.detail ?? '', which) };
  const { wheel, ignored, newIds } = chosen.one;
  return {
    ok: true,
    wheel,
    archive,
    warnings: [
      ...ignored.map(passedOver(name)),
      ...newIds.map(keptBoth(name)),
      ...weighingWarnings(name, wheel),
      ...(readings?.ok === false ? [unreadable(name, readings.reason, readings.detail)] : []),
    ],
    ...(readings?.ok ? { stored: readings.stored } : {}),
    handedOut: readings !== undefined,
    recordings,
  };
}

const WHICH_TEXT: Readonly<
  Record<
    Extract<ReturnType<typeof chooseWheel>, { ok: false }>['reason'],
    (name: string, there: string, which: string | undefined) => string
  >
> = {
  noWheel: (name) => `${name} holds no wheel. Name another file.`,
  severalWheels: (name, there) =>
    `${name} holds several wheels: ${there}. Say which one is meant by its count or its name: --which 1.`,
  noSuchWheel: (name, there, which) =>
    `${name} holds no wheel ${which}. There is: ${there}. Say which one is meant by its count or its name.`,
};

const passedOver =
  (name: string) =>
  ({ path, reason, detail }: WheelProblem): string =>
    reason === 'noSuchSpoke'
      ? `${name}: ${path} has spokes that the wheel does not have (${detail}); they count for nothing.`
      : `${name}: the field ${path} is not known and was passed over.`;

const keptBoth =
  (name: string) =>
  ({ what, was, now }: NewId): string =>
    `${name}: another ${what} has the id ${was} too; both are kept, this one as ${now}.`;

const unreadable = (name: string, reason: string, detail: string): string =>
  reason === 'newerVersion'
    ? `${name}: readings.json was written by a newer version (${detail}), so the tensions in it are not compared. Use that version.`
    : `${name}: readings.json cannot be read (${reason}, ${detail}), so the tensions in it are not compared.`;

function wheelRefused(name: string, problems: readonly WheelProblem[]): string {
  const [first] = problems;
  if (first?.reason === 'newerVersion')
    return `The wheel file ${name} was written by a newer version (${first.detail}). Nothing was read; use that version.`;
  if (first?.reason === 'notJson')
    return `The wheel file ${name} is no JSON, or cut off: ${first.detail}. Copy it again.`;
  if (first?.reason === 'notAWheelFile' && first.path === 'format')
    return `${name} is no wheel file: its format is not "${first.detail}". docs/wheel-file.md tells what one holds.`;
  const list = problems.map(({ path, reason, detail }) => `  ${path}: ${reason} (${detail})`);
  return `The wheel file ${name} was refused:\n${list.join('\n')}\ndocs/wheel-file.md tells what each field holds.`;
}
