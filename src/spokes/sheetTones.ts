import { measureWheel } from '../physics/measureWheel.ts';
import type { Member } from '../physics/member.ts';
import type { SpokeTones } from '../physics/spokeTones.ts';
import { type Hertz, hertz, type Newtons, newtons, type TensionUnit, tensionFrom } from '../units.ts';
import { completePluck } from './completePluck.ts';
import { describeLaidSpoke } from './describeMember.ts';
import { expandLayout } from './expandLayout.ts';
import type { Prepare } from './rememberPrepared.ts';
import type { Sheet, SheetFinding } from './sheet.ts';
import type { ComparedRow, SheetToneRow } from './sheetToneRow.ts';
import { isStrings, togetherFit, togetherOff } from './togetherOff.ts';
import type { Side, Wheel } from './wheel.ts';

export interface SheetTones {
  readonly rows: readonly SheetToneRow[];
  readonly findings: readonly SheetFinding[];
}

const COVERAGE = 2;

/**
 * A sheet's tones through the full member, beside the plain string's formula.
 *
 * @param unit The sheet's unit, where it is known: then stated and recomputed tensions are compared.
 */
export function sheetTones(sheet: Sheet, wheel: Wheel, prepare: Prepare, unit?: TensionUnit): SheetTones {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok || !sheet.tonesHz) return { rows: [], findings: [] };
  const inputs: { side: Side; index: number; audible: readonly number[]; member: Member; tones: SpokeTones }[] = [];
  for (const side of ['left', 'right'] as const) {
    const places = laid.spokes.filter((spoke) => spoke.side === side);
    for (const [index, frequencies] of sheet.tonesHz[side].entries()) {
      const spoke = places[index];
      if (spoke === undefined) continue;
      const one = describeLaidSpoke(wheel, spoke);
      const audible = frequencies.filter((frequency) => frequency > 0).toSorted((a, b) => a - b);
      if (!one.ok || audible.length === 0) continue;
      const crossed = one.lengths.crossingFromHub !== undefined;
      const how = { crossing: crossed ? 'held' : 'none', direction: 'inPlane' } as const;
      const pluck = completePluck(
        { tones: audible.map((frequencyHz) => ({ frequencyHz })) },
        'sheet',
        spoke.number,
        how,
      );
      const tones: SpokeTones = {
        id: spoke.number,
        prepared: prepare(one.described),
        plucks: [pluck],
        group: one.group,
      };
      inputs.push({ side, index, audible, member: one.described.member, tones });
    }
  }
  const measured = measureWheel(inputs.map((one) => one.tones));
  const rows = inputs.map(({ side, index, audible, member, tones }): SheetToneRow => {
    const stated = sheet[side][index];
    const { whole, free, massPerLength, freeLength } = stringTensions(member, hertz(audible[0] ?? 0));
    return {
      side,
      index,
      tonesHz: audible,
      ...(unit !== undefined && stated !== undefined ? { sheetN: tensionFrom(stated, unit) } : {}),
      member: measured.readings.get(tones.id) ?? { ok: false, reason: 'noTones' },
      stringWholeN: whole,
      stringFreeN: free,
      group: tones.group,
      rings: {
        from: member.crossingFromHub === undefined ? 'hub' : 'crossing',
        lengthMm: 1000 * freeLength,
        massGramsPerMetre: 1000 * massPerLength,
      },
    };
  });
  return { rows, findings: contradictions(rows) };
}

/** What spokes of one description have in common is said once; what each has of its own by itself. */
function contradictions(rows: readonly SheetToneRow[]): readonly SheetFinding[] {
  const compared = rows.filter((row): row is ComparedRow => row.sheetN !== undefined && row.member.ok);
  return [...new Set(compared.map(({ group }) => group))].flatMap((name): readonly SheetFinding[] => {
    const group = compared.filter((row) => row.group === name);
    const together = togetherOff(group);
    if (together === undefined) {
      const alone = group.filter(contradicts).map(contradiction);
      const fit = alone.length === 0 ? togetherFit(group) : undefined;
      return fit ? [fit] : alone;
    }
    const { finding, apart } = together;
    return [
      finding,
      ...apart.map((row) => {
        const ratio = row.sheetN / row.member.tensionN / (1 + finding.percent / 100);
        return { ...contradiction(row), fromOthersPercent: 100 * (ratio - 1) };
      }),
    ];
  });
}

const expandedOf = ({ member }: ComparedRow): number => COVERAGE * Math.hypot(member.uOwnN, member.uCommonN);

const contradicts = (row: ComparedRow): boolean => Math.abs(row.sheetN - row.member.tensionN) > expandedOf(row);

const contradiction = (row: ComparedRow): Extract<SheetFinding, { kind: 'tonesContradict' }> => ({
  severity: 'fault',
  kind: 'tonesContradict',
  side: row.side,
  index: row.index,
  sheetN: row.sheetN,
  memberN: row.member.tensionN,
  expandedN: expandedOf(row),
  stringExplains: isStrings(row.sheetN, row),
});

/**
 * What the ideal string's formula makes of a tone, over the whole spoke and over the part beyond the crossing.
 *
 * @source Mersenne, Taylor: T = 4 μ L² f²
 */
export function stringTensions(
  member: Member,
  first: Hertz,
): { readonly whole: Newtons; readonly free: Newtons; readonly massPerLength: number; readonly freeLength: number } {
  const length = member.sections.reduce((sum, section) => sum + section.length, 0);
  const from = member.crossingFromHub ?? 0;
  let at = 0;
  let mass = 0;
  let freeMass = 0;
  for (const section of member.sections) {
    mass += section.length * section.massPerLength;
    freeMass += Math.max(0, at + section.length - Math.max(at, from)) * section.massPerLength;
    at += section.length;
  }
  const freeLength = length - from;
  const tension = (over: number, perLength: number) => newtons(4 * perLength * (over * first) ** 2);
  return {
    whole: tension(length, mass / length),
    free: tension(freeLength, freeMass / freeLength),
    massPerLength: freeMass / freeLength,
    freeLength,
  };
}
