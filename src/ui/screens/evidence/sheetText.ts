import type { BeyondByUnit, SheetClaim, SheetFinding, SheetStatement } from '../../../spokes/sheet.ts';
import type { SpreadDefinition } from '../../../spokes/spreadDefinitions.ts';
import { newtons, type TensionUnit, tensionIn } from '../../../units.ts';

export interface FindingText {
  /** What does not add up, or what does. */
  readonly what: string;
  /** What would explain it, without blame. */
  readonly explains?: string;
  readonly ask?: string;
}

export const SPREAD_TEXT: Readonly<Record<SpreadDefinition, string>> = {
  sampleSd: 'standard deviation with n − 1',
  populationSd: 'standard deviation with n',
  range: 'highest less lowest',
  halfRange: 'half of highest less lowest (±)',
  meanAbsoluteDeviation: 'mean absolute deviation from the mean',
  maximumDeviation: 'largest deviation from the mean',
  rangeOverHighest: 'highest less lowest, over the highest',
  rangeOverLowest: 'highest less lowest, over the lowest',
};

export const STATEMENT_TEXT: Readonly<Record<SheetStatement, { readonly name: string; readonly why: string }>> = {
  unit: { name: 'the unit of tension', why: 'without it no figure means anything' },
  limit: { name: 'the maker’s limit', why: 'a tension is too high or too low only against one' },
  limitSource: { name: 'where the limit comes from', why: 'a limit without a source cannot be checked' },
  method: { name: 'how the tensions were measured', why: 'gauge and ear err in different ways' },
  freeLength: { name: 'the free length of the spokes', why: 'a tone becomes a tension only with it' },
  mass: { name: 'the mass of the spokes', why: '1 % of mass is about 1 % of tension' },
  lacing: { name: 'the lacing', why: 'where spokes touch, only a part of each rings' },
  tyre: {
    name: 'whether a tyre was on, and its pressure',
    why: 'an inflated tyre takes some of every spoke’s tension',
  },
  temperature: { name: 'the temperature', why: 'rim and spokes expand differently' },
  repeatability: { name: 'how well a reading repeats', why: 'a difference below it is none' },
  uncertainty: { name: 'the uncertainty', why: 'a figure near a limit clears nothing without it' },
};

const OF: Readonly<Record<SheetClaim['of'], string>> = {
  left: 'of the left side',
  right: 'of the right side',
  wheel: 'of all spokes',
};
const written = (claim: SheetClaim): string =>
  `${claim.value.toFixed(claim.decimals)}${claim.percent ? ' %' : claim.unit ? ` ${claim.unit}` : ''}`;
const list = (units: readonly TensionUnit[]): string => units.join(' or ');
const inUnit = (valueN: number, unit: TensionUnit): string =>
  `${tensionIn(newtons(valueN), unit).toFixed(unit === 'N' ? 0 : 1)} ${unit}`;

type Fit = Extract<SheetFinding, { kind: 'tonesFitTogether' }>;

function fitText({ rows, side, percent, expandedPercent, unseenMm }: Fit): string {
  const off = `${Math.abs(percent).toFixed(1)} % ${percent < 0 ? 'below' : 'above'}`;
  const unseen =
    unseenMm === undefined
      ? 'A wrong free length for the whole side may still not show: the ends of the spokes can take up part of it. More rows do not change that; a free length measured with a ruler does.'
      : `A free length wrong by up to ${unseenMm.toFixed(0)} mm for the whole side would not show. More rows do not narrow that; a free length measured with a ruler does.`;
  return `The ${rows} rows of the ${side} side lie ${off} what their tones mean, within the ± ${expandedPercent.toFixed(1)} % that all of them share. ${unseen}`;
}

/** How many rows the limits would exclude in each unit that the table may be in. */
const beyondText = (beyond: BeyondByUnit | undefined): string =>
  beyond === undefined
    ? ''
    : ` Beyond the limits on the sheet would lie ${beyond.map(([unit, rows]) => `${rows === 0 ? 'no row' : rows === 1 ? 'one row' : `${rows} rows`} in ${unit}`).join(', ')}.`;

/**
 * A finding in careful words.
 * @param unit in which forces are shown
 */
export function findingText(finding: SheetFinding, unit: TensionUnit): FindingText {
  switch (finding.kind) {
    case 'unitMissing':
      return finding.plausible.length === 0
        ? {
            what: 'No unit is stated, and the figures are plausible in none of newtons, kgf and lbf (usual tensions of built wheels, common practice).',
            explains: 'They may be marks of a gauge that were never turned into tension, or relative figures.',
            ask: 'In which unit are the figures, and were they read off a chart?',
          }
        : {
            what: `No unit is stated. The figures would be usual (common practice) in ${list(finding.plausible)}.${beyondText(finding.beyond)}`,
            explains: 'The unit may have been taken for granted.',
            ask: 'In which unit are the figures?',
          };
    case 'unitImplausible':
      return {
        what: `In ${finding.stated}, as stated, the figures lie outside what built wheels usually have (common practice).${beyondText(finding.beyond)}`,
        explains:
          finding.plausible.length > 0
            ? `They would be usual in ${list(finding.plausible)}${finding.plausible.length === 1 ? '; all else below takes them so' : ''}.`
            : 'They are usual in none of newtons, kgf and lbf; they may be marks of a gauge.',
        ask: 'Is the unit right?',
      };
    case 'meanDoesNotFollow':
      return {
        what: `The mean ${OF[finding.claim.of]} is stated as ${written(finding.claim)}; the table gives ${finding.computed.toFixed(finding.claim.decimals + 1)}.`,
        ...(finding.explains === undefined ? {} : { explains: MEAN_EXPLAINS[finding.explains] }),
        ask: 'Of which spokes was the mean taken, and were any left out?',
      };
    case 'meanFollows':
      return { what: `The mean ${OF[finding.claim.of]}, ${written(finding.claim)}, follows from the table.` };
    case 'spreadDoesNotFollow':
      return {
        what: `The spread ${OF[finding.claim.of]} is stated as ${written(finding.claim)}; no usual definition gives that from the table. The nearest is ${finding.nearest.value.toFixed(finding.claim.decimals + 1)}${finding.claim.percent ? ' %' : ''} (${SPREAD_TEXT[finding.nearest.definition]}).`,
        explains: 'It may belong to other readings, to a table before the last correction, or leave spokes out.',
        ask: 'By which formula was the spread computed, and from which readings?',
      };
    case 'spreadFollows':
      return {
        what: `The spread ${OF[finding.claim.of]}, ${written(finding.claim)}, follows from the table as ${finding.definitions.map((one) => SPREAD_TEXT[one]).join(', or as ')}.`,
      };
    case 'ratioContradicts':
      return {
        what: `Left over right is ${finding.measured.toFixed(3)}; the described hub demands ${finding.expected.toFixed(3)}, and the two differ by more than ± ${finding.expanded.toFixed(3)} allows.`,
        explains:
          'The sides may be named the other way round, one side’s chart may be for another section, the hub may differ from the description, or the rim may stand off its plane.',
        ask: 'Which side is which, and were both sides read with the chart of their own spokes?',
      };
    case 'ratioFits':
      return {
        what: `Left over right, ${finding.measured.toFixed(3)}, fits what the described hub demands, ${finding.expected.toFixed(3)}, within the ± ${finding.expanded.toFixed(3)} that both allow.`,
      };
    case 'beyondLimit':
      return {
        what: `Row ${finding.index + 1} of the ${finding.side} side, ${inUnit(finding.tensionN, unit)}, lies beyond the limits on the sheet.`,
      };
    case 'unusualLimit':
      return {
        what: `The maximum of ${inUnit(finding.maximumN, unit)} is higher than makers commonly state (common practice).`,
        ask: 'Where does this limit come from?',
      };
    case 'limitImplausible':
      return {
        what: `A maximum of ${finding.maximum} ${finding.stated} is none that makers commonly state (common practice); no row was held against it.`,
        explains: `The figure would be usual in ${list(finding.plausible)}.`,
        ask: 'In which unit is the limit, and where does it come from?',
      };
    case 'placeRepeated':
      return {
        what: `Spoke ${finding.place} stands on the ${finding.side} side more than once.`,
        explains: 'A row may have been copied twice, misnumbered, or be a second reading of the same spoke.',
        ask: 'Which of the rows is meant, and is another spoke missing?',
      };
    case 'countDiffers':
      return {
        what: `The table has ${finding.count} spokes on the ${finding.side} side; the described wheel has ${finding.described}.`,
        explains:
          finding.count > finding.described
            ? 'A row may be a mean or another figure, or the wheel may be another one.'
            : 'Spokes may not have been read, or were left out.',
        ask: 'Which spokes does the table hold?',
      };
    case 'tonesContradict':
      return {
        what: `Row ${finding.index + 1} of the ${finding.side} side: the stated tones mean ${inUnit(finding.memberN, unit)} ± ${inUnit(finding.expandedN, unit)} for the described spoke, the table says ${inUnit(finding.sheetN, unit)}${apartText(finding.fromOthersPercent)}.`,
        ...(finding.stringExplains
          ? {
              explains: 'The plain string formula gives the stated figure: it takes the spoke’s stiffness for tension.',
            }
          : {}),
        ask:
          finding.fromOthersPercent === undefined
            ? 'By which formula, length and mass were the tones turned into a tension?'
            : 'Are tones and tension those of the same spoke, and were both read at the same time?',
      };
    case 'tonesContradictTogether':
      return togetherText(finding);
    case 'tonesFitTogether':
      return { what: fitText(finding) };
  }
}

const apartText = (percent: number | undefined): string =>
  percent === undefined
    ? ''
    : `; that is ${Math.abs(percent).toFixed(0)} % ${percent > 0 ? 'above' : 'below'} what the other rows’ common ratio gives`;

function togetherText(finding: Extract<SheetFinding, { kind: 'tonesContradictTogether' }>): FindingText {
  const { side, rows, of, percent, expandedPercent, rings, wanted } = finding;
  const which = rows === of ? `All ${of} rows` : `${rows} of ${of} rows`;
  const part = rings.from === 'crossing' ? 'from the outermost crossing to the rim' : 'from the hub to the rim';
  // Tension goes with the mass, and with the square of the length.
  const length = `${wanted.lengthMm.toFixed(0)} ± ${((wanted.lengthMm * expandedPercent) / 200).toFixed(0)} mm`;
  const mass = `${wanted.massGramsPerMetre.toFixed(1)} ± ${((wanted.massGramsPerMetre * expandedPercent) / 100).toFixed(1)} g/m`;
  return {
    what: `${which} of the ${side} side read ${Math.abs(percent).toFixed(1)} % ${percent > 0 ? 'above' : 'below'} what their tones mean for the described spokes (± ${expandedPercent.toFixed(1)} %).`,
    explains: finding.stringExplains
      ? 'The plain string formula gives the stated figures: it takes the spokes’ stiffness for tension.'
      : `One cause would do for all of them: a free length, ${part}, of ${length} where ${rings.lengthMm.toFixed(0)} mm are described; or a mass of ${mass} where ${rings.massGramsPerMetre.toFixed(1)} g/m are described; or a gauge that reads all of them so.`,
    ask: `Which length was measured ${part}, which mass have the spokes, and by which formula or gauge were the tensions found?`,
  };
}

const MEAN_EXPLAINS = {
  median: 'It is the median.',
  otherSide: 'It is the mean of the other side.',
  bothSides: 'It is the mean of both sides together.',
  leftSide: 'It is the mean of the left side alone.',
  rightSide: 'It is the mean of the right side alone.',
} as const;
