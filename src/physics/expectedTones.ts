import type { Expected, ExpectedAtTension, Family, How } from '../contract.ts';
import { hertz, newtons } from '../units.ts';
import { holdOf, varianceWithPartner, withHold } from './holdErrors.ts';
import { LINE, LINE_SIZE, lineAt, lnFrequencyAt, middleOf, shareAt } from './lineAt.ts';
import type { MemberUncertainty } from './member.ts';
import { modelErrorAt, ownModelSigma } from './modelErrors.ts';
import type { PreparedMember } from './prepareMember.ts';
import { MODEL, sharedPrior, writeSensitivities } from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';

const LOWEST = 20;
const HIGHEST = 3000;
const RUNGS = 41;

/**
 * The tones to expect of a described member on a ladder of tensions, for the ear.
 *
 * Method: mean and covariance of ln f over the ends' prior, of every family that this way of plucking can bring out; the description's own
 * uncertainty enters with its sensitivities, the model's with its errors by mode.
 * @returns 41 rungs, 20..3000 N, geometric, ascending; each rung's tones one plane after the other, the plucked one first, ascending in frequency
 */
export const expectedTones = (prepared: PreparedMember, how: How): ExpectedAtTension[] => {
  const crossed = prepared.described.member.crossingFromHub !== undefined;
  const families: { table: ToneTable; family: Family }[] = [];
  const main: Family = crossed ? 'segment' : 'whole';
  families.push({ table: prepared.inPlane, family: main });
  if (!crossed) families.push({ table: prepared.across, family: main });
  else if (how.crossing === 'held') families.push({ table: prepared.across, family: main });
  else if (prepared.pair !== undefined && how.direction !== 'inPlane')
    families.push({ table: prepared.pair, family: 'pair' });
  if (how.direction === 'across') families.reverse();
  const { uncertainty } = prepared.described;
  return Array.from({ length: RUNGS }, (_, i) => {
    const tension = LOWEST * (HIGHEST / LOWEST) ** (i / (RUNGS - 1));
    const planes = families.map(({ table, family }) => tonesOf(table, family, Math.log(tension), uncertainty));
    const count = planes.reduce((sum, { tones }) => sum + tones.length, 0);
    let before = 0;
    const covariance = planes.flatMap(({ tones, covariance: own }) => {
      const rows = own.map((row) => [...new Array(before).fill(0), ...row]);
      before += tones.length;
      return rows.map((row) => [...row, ...new Array(count - before).fill(0)]);
    });
    return { tensionN: newtons(tension), tones: planes.flatMap(({ tones }) => tones), covariance };
  });
};

const tonesOf = (
  table: ToneTable,
  family: Family,
  lnT: number,
  uncertainty: MemberUncertainty,
): { tones: Expected[]; covariance: number[][] } => {
  const { modes } = table;
  const nodes = table.hub.lnK.length * table.rim.lnK.length;
  const middle = middleOf(table);
  const mean = new Float64Array(modes);
  const product = new Float64Array(modes * modes);
  const lnF = new Float64Array(modes);
  for (let node = 0; node < nodes; node++) {
    const weight = Math.exp(table.lnPrior[node] as number);
    for (let m = 0; m < modes; m++) {
      lnF[m] = lnFrequencyAt(table, node, m, lnT);
      mean[m] = (mean[m] as number) + weight * (lnF[m] as number);
      for (let n = 0; n <= m; n++)
        product[m * modes + n] = (product[m * modes + n] as number) + weight * (lnF[m] as number) * (lnF[n] as number);
    }
  }
  const described = describedPart(table, middle, lnT, uncertainty);
  const covariance = Array.from(mean, (a, m) =>
    Array.from(mean, (b, n) => {
      const ends = (product[Math.max(m, n) * modes + Math.min(m, n)] as number) - a * b;
      return ends + (described[m * modes + n] as number);
    }),
  );
  let inside = 0;
  let hub = 0;
  const tones = Array.from(mean, (ln, m): Expected => {
    const own = shareAt(table, middle, m, lnT) >= 0.5;
    return {
      plane: table.plane,
      family: own ? family : 'hub',
      mode: own ? ++inside : ++hub,
      frequencyHz: hertz(Math.exp(ln)),
    };
  });
  return { tones, covariance };
};

/** What the description and the model leave open beside the ends: covariance of ln f, taken in the middle of the ends' grid. */
const describedPart = (table: ToneTable, node: number, lnT: number, uncertainty: MemberUncertainty): Float64Array => {
  const { modes } = table;
  const { sigma } = sharedPrior(table, uncertainty);
  const read = new Float64Array(LINE_SIZE);
  const by = new Float64Array(modes * MODEL);
  const out = new Float64Array(modes * modes);
  for (let m = 0; m < modes; m++) {
    lineAt(table, node, m, lnT, read);
    const hold = holdOf(table, node);
    writeSensitivities(read, false, hold, by, m * MODEL);
    const first = read[LINE.first] as number;
    const own = Math.sqrt(modelErrorAt(table, m, lnT) ** 2 + varianceWithPartner(ownModelSigma(m), hold, first));
    out[m * modes + m] = withHold(table, node, own, read) ** 2;
  }
  for (let m = 0; m < modes; m++)
    for (let n = 0; n < modes; n++)
      for (let p = 0; p < MODEL; p++)
        out[m * modes + n] =
          (out[m * modes + n] as number) +
          (by[m * MODEL + p] as number) * (by[n * MODEL + p] as number) * (sigma[p] as number) ** 2;
  return out;
};
