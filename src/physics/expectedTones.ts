import type { Expected, ExpectedAtTension, Family, How } from '../contract.ts';
import { hertz, newtons } from '../units.ts';
import { lnFrequencyAt, shareAt } from './lineAt.ts';
import type { PreparedMember } from './prepareMember.ts';
import type { ToneTable } from './toneTable.ts';

const LOWEST = 20;
const HIGHEST = 3000;
const RUNGS = 41;
/** Common model error of a ratio to mode 1, see `modelSigma`. */
const RATIO_FLOOR = 0.0005;

/**
 * The tones to expect of a described member on a ladder of tensions, for the ear.
 *
 * Method: mean over the ends' prior of ln f of every family that this way of plucking can bring out; `uHz` is the scatter of the
 * ratio to mode 1 of the same family over that prior, with the model's own error.
 * @returns 41 rungs, 20..3000 N, geometric, ascending; each rung's tones ascending by family and mode
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
  return Array.from({ length: RUNGS }, (_, i) => {
    const tension = LOWEST * (HIGHEST / LOWEST) ** (i / (RUNGS - 1));
    const tones = families.flatMap(({ table, family }) => tonesOf(table, family, Math.log(tension)));
    return { tensionN: newtons(tension), tones };
  });
};

const tonesOf = (table: ToneTable, family: Family, lnT: number): Expected[] => {
  const nodes = table.hub.lnK.length * table.rim.lnK.length;
  const out: Expected[] = [];
  const middle = Math.floor(nodes / 2);
  let segment = 0;
  let hub = 0;
  for (let m = 0; m < table.modes; m++) {
    const inside = shareAt(table, middle, m, lnT) >= 0.5;
    const number = inside ? ++segment : ++hub;
    let sum = 0;
    let ratio = 0;
    let squares = 0;
    for (let node = 0; node < nodes; node++) {
      const lnF = lnFrequencyAt(table, node, m, lnT);
      const r = lnF - lnFrequencyAt(table, node, 0, lnT);
      const weight = Math.exp(table.lnPrior[node] as number);
      sum += weight * lnF;
      ratio += weight * r;
      squares += weight * r * r;
    }
    const frequency = Math.exp(sum);
    const spread = Math.sqrt(Math.max(squares - ratio ** 2, 0));
    out.push({
      plane: table.plane,
      family: inside ? family : 'hub',
      mode: number,
      frequencyHz: hertz(frequency),
      uHz: hertz(frequency * (m === 0 ? RATIO_FLOOR : Math.hypot(spread, RATIO_FLOOR))),
    });
  }
  return out;
};
