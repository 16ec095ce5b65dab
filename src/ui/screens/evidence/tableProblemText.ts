import type { ChartReason } from '../../../spokes/gaugeChart.ts';
import type { ReadingsProblem } from '../../../spokes/gaugeReadings.ts';
import type { ChartRead } from '../../../spokes/readChart.ts';
import type { SheetTable } from '../../../spokes/readSheet.ts';

type Reason =
  | ReadingsProblem['reason']
  | ChartReason
  | ChartRead['problems'][number]['reason']
  | SheetTable['problems'][number]['reason'];

const TEXT: Readonly<Record<Reason, (detail: string) => string>> = {
  tooLong: (detail) => `longer than any wheel’s table (${detail})`,
  empty: () => 'nothing in it',
  notText: (detail) => `no text, or in an encoding that is not read here (${detail})`,
  notAFigure: (detail) => `“${detail}” is no figure`,
  unclearDecimals: (detail) =>
    `${detail} may be a thousand or a decimal; write thousands without a sign, or decimals with a point`,
  raggedRow: (detail) => `more cells than the head has (${detail}); divide cells by semicolons, or leave the head out`,
  brokenQuote: (detail) => `a quotation mark that does not end: ${detail}`,
  spokeUnknown: (detail) => `a spoke that this wheel does not have (${detail})`,
  spokeRepeated: (detail) => `a spoke that was there already (spoke, line: ${detail}); put repeats on one line`,
  unitsMixed: (detail) => `more than one unit (${detail}); use one`,
  noFigures: () => 'no figure in it',
  tooManyRows: (detail) => `more rows than spokes, in all or of a side (${detail})`,
  notPositive: (detail) => `a reading must be above zero (${detail})`,
  repeatsApart: (detail) =>
    `too far apart for readings of one spoke (${detail}); write a figure without blanks, divide figures by semicolons, and leave other columns out`,
  sideContradicts: (detail) =>
    `the side does not fit the spoke (${detail}); the table numbers its spokes in another way than this wheel; write their numbers in this wheel`,
  columnsBySide: (detail) =>
    `a column a side (${detail}); write a line a spoke, its number in this wheel first, or all readings of one side below its name`,
  numberUnclear: (detail) =>
    `“${detail}” may be a spoke of the wheel by its number, or one of its side counted from 1; write the number in this wheel alone, without a side`,
  numberAlone: (detail) =>
    `“${detail}” may be a spoke or a reading; write the spoke, a semicolon, then its reading, or readings alone below the side’s name`,
  tooFewPoints: () => 'a chart needs two points at least',
  repeatedReading: (detail) => `the reading ${detail} stands there twice`,
  notMonotone: (detail) => `tension turns back or stands still here (${detail}); a chart must rise or fall all the way`,
  notTwoFigures: (detail) => `a reading and a tension are wanted, this is “${detail}”`,
  summaryRow: (detail) =>
    `a mean, spread or other summary, not a spoke: “${detail}”; take the line out and put it among the claims`,
  severalFigures: (detail) =>
    `several figures, and no head tells which is the tension: “${detail}”; put a line above, such as side; kgf; tone 1 Hz`,
  severalTensions: (detail) =>
    `several columns may be the tension (${detail}); leave one, or head the others with what they are`,
  unitNotRead: (detail) => `figures in ${detail} are not read; give tensions in N, kgf or lbf`,
  noTension: (detail) => `tones without a tension (${detail}); put them under Tones, or give the tension`,
  noSides: (detail) => `it is not said to which side this belongs: “${detail}”`,
};

/** What is wrong with a line, and where. Line 0 is the whole. */
export const tableProblemText = (line: number, reason: Reason, detail: string): string =>
  `${line > 0 ? `Line ${line}: ` : ''}${TEXT[reason](detail)}`;
