/**
 * First digits of the scripts that tables come in: Arabic, Persian, Devanagari, Bengali, Thai; nine more follow each.
 *
 * @source Unicode Character Database, DerivedNumericType.txt: Decimal
 */
const ZEROS = ['\u0660', '\u06f0', '\u0966', '\u09e6', '\u0e50'] as const;
const DIGITS = new RegExp(
  ZEROS.map((zero) => `[${zero}-${String.fromCharCode(zero.charCodeAt(0) + 9)}]`).join('|'),
  'g',
);
/** Full-width forms stand in the order of ASCII, from `!` to `~`. @source Unicode Standard, block Halfwidth and Fullwidth Forms */
const FULL_WIDTH = /[\uff01-\uff5e]/g;
const FULL_OVER_ASCII = 0xfee0;
/** Of no width: joiners, marks of direction, soft hyphens, byte order marks. */
const UNSEEN = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g;
/** Blanks that do not break hold a figure together where three digits follow; a plain blank may divide two. */
const GROUPING = /(\d)[\u00a0\u2007\u2009\u202f](?=\d{3}(?!\d))/g;
const ASCII = /^[\0-\x7f]*$/;

/** A text with its figures written in the digits and signs of ASCII, whatever script or typesetting they came in. */
export const plainFigures = (text: string): string =>
  ASCII.test(text)
    ? text
    : text
        .replace(UNSEEN, '')
        .replace(FULL_WIDTH, (sign) => String.fromCharCode(sign.charCodeAt(0) - FULL_OVER_ASCII))
        .replaceAll('\u3000', ' ')
        .replace(DIGITS, (digit) => `${digitOf(digit)}`)
        .replaceAll('\u2212', '-')
        .replace(/(\d)\u066c(?=\d)/g, '$1')
        .replaceAll('\u066b', '.')
        .replaceAll('\u060c', ',')
        .replaceAll('\u061b', ';')
        .replace(GROUPING, '$1');

const digitOf = (digit: string): number => {
  const zero = ZEROS.findLast((one) => one <= digit) ?? '0';
  return digit.charCodeAt(0) - zero.charCodeAt(0);
};
