import type { WheelProblem, WheelProblemReason } from '../../spokes/wheelProblem.ts';

/** What is wrong at a place of a wheel file, and what to do there. */
const TEXT: Readonly<Record<WheelProblemReason, (detail: string) => readonly [what: string, todo: string]>> = {
  notJson: (detail) => [`this is no JSON text (${detail})`, 'Choose a file that was exported here.'],
  tooBig: (detail) => [
    `the file is larger than any that is read (${detail} characters)`,
    'Choose a file that was exported here.',
  ],
  notAWheelFile: () => ['this is no wheel file', 'Choose a file that was exported here.'],
  newerVersion: (detail) => [
    `a newer version of the app wrote it (${detail})`,
    'Update the app, then import it again.',
  ],
  missing: () => ['something is missing', 'Add it, or export the file again where it came from.'],
  wrongType: (detail) => [
    `another kind of value is wanted (${detail})`,
    'Correct it; a figure stands without quotation marks.',
  ],
  outOfRange: (detail) => [`the figure cannot be (${detail})`, 'Correct it.'],
  tooLong: (detail) => [`there is more than any wheel has (${detail})`, 'Shorten it.'],
  unknownWord: (detail) => [`the word is not one of those that are read here (${detail})`, 'Write one of them.'],
  unknownKind: (detail) => [
    `the spoke kind “${detail}” is neither in the file nor in the catalogue`,
    'Describe it under kinds, or name one of the catalogue.',
  ],
  unknownMaterial: (detail) => [
    'the material is not known by that name',
    `Name one of these, or give its figures: ${detail}.`,
  ],
  unknownNipple: (detail) => [
    'the nipple is not known by that name',
    `Name one of these, or give its figures: ${detail}.`,
  ],
  unknownField: (detail) => [`the field ${detail} is not known and was passed over`, 'Check its spelling.'],
  noSuchSpoke: (detail) => [
    `there are plucks or readings of spokes that this wheel does not have (${detail}); they are kept and count for nothing`,
    'Check the number of spokes, or correct theirs.',
  ],
  limitsContradict: (detail) => [`the minimum lies above the maximum (${detail})`, 'Correct one of the two.'],
};

/** One problem as a sentence with its place, and what to do about it. */
export function wheelProblemText({ path, reason, detail }: WheelProblem): string {
  const [what, todo] = TEXT[reason](detail);
  return path === '' ? `${what[0]?.toUpperCase() ?? ''}${what.slice(1)}. ${todo}` : `At ${path} ${what}. ${todo}`;
}
