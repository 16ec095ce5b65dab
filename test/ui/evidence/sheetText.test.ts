import { describe, expect, it } from 'vitest';
import type { SheetFinding } from '../../../src/spokes/sheet.ts';
import { findingText } from '../../../src/ui/screens/evidence/sheetText.ts';

const claim = { of: 'right', what: 'spread', value: 1.1, decimals: 1, percent: true } as const;
const FAULTS: readonly SheetFinding[] = [
  { severity: 'fault', kind: 'unitMissing', plausible: [] },
  { severity: 'fault', kind: 'unitMissing', plausible: ['kgf'] },
  { severity: 'fault', kind: 'unitImplausible', stated: 'N', plausible: ['kgf'] },
  { severity: 'fault', kind: 'meanDoesNotFollow', claim: { ...claim, what: 'mean', percent: false }, computed: 110 },
  { severity: 'fault', kind: 'spreadDoesNotFollow', claim, nearest: { definition: 'sampleSd', value: 2.4 } },
  { severity: 'fault', kind: 'ratioContradicts', measured: 0.9, expected: 0.53, expanded: 0.05 },
  { severity: 'fault', kind: 'countDiffers', side: 'right', count: 17, described: 16 },
  {
    severity: 'fault',
    kind: 'tonesContradictTogether',
    side: 'left',
    rows: 15,
    of: 16,
    percent: -7.2,
    expandedPercent: 3.1,
    stringExplains: false,
    rings: { from: 'crossing', lengthMm: 205, massGramsPerMetre: 24.7 },
    wanted: { lengthMm: 197.4, massGramsPerMetre: 22.9 },
  },
  {
    severity: 'fault',
    kind: 'tonesContradict',
    side: 'right',
    index: 3,
    sheetN: 1300,
    memberN: 1050,
    expandedN: 60,
    stringExplains: true,
  },
];

describe('a finding on somebody’s sheet', () => {
  it.each(FAULTS.map((finding) => [finding.kind, finding] as const))(
    '%s ends in a question, and blames nobody',
    (_, finding) => {
      const { what, explains, ask } = findingText(finding, 'N');
      expect(ask).toMatch(/\?$/);
      expect(`${what} ${explains} ${ask}`).not.toMatch(
        /wrong|false|lie[sd]?\b(?! (beyond|outside))|cheat|fake|error by/i,
      );
    },
  );

  it('names length and mass that would explain all rows of a side at once', () => {
    const finding = FAULTS.find(({ kind }) => kind === 'tonesContradictTogether');
    const { what, explains } = findingText(finding as SheetFinding, 'N');
    expect(what).toBe(
      '15 of 16 rows of the left side read 7.2 % below what their tones mean for the described spokes (± 3.1 %).',
    );
    expect(explains).toContain('of 197 ± 3 mm where 205 mm are described; or a mass of 22.9 ± 0.7 g/m where 24.7 g/m');
  });

  it('of a unit left open says how each would stand against the limits', () => {
    const beyond = [
      ['kgf', 16],
      ['lbf', 0],
    ] as const;
    const { what } = findingText({ severity: 'fault', kind: 'unitMissing', plausible: ['kgf', 'lbf'], beyond }, 'N');
    expect(what).toMatch(/Beyond the limits on the sheet would lie 16 rows in kgf, no row in lbf\.$/);
  });

  it('of tones that fit says what would pass unseen', () => {
    const fit = { severity: 'note', kind: 'tonesFitTogether', side: 'left', rows: 16 } as const;
    const figures = { ...fit, percent: -7.04, expandedPercent: 13.3 };
    const within =
      'The 16 rows of the left side lie 7.0 % below what their tones mean, within the ± 13.3 % that all of them share.';
    expect(findingText({ ...figures, unseenMm: 11.2 }, 'N').what).toBe(
      `${within} A free length wrong by up to 11 mm for the whole side would not show. More rows do not narrow that; a free length measured with a ruler does.`,
    );
    const several = findingText(figures, 'N').what;
    expect(several.startsWith(`${within} A wrong free length for the whole side may still not show`)).toBe(true);
    expect(several).not.toMatch(/ mm /);
  });

  it('says by name what would explain a figure of the string formula', () => {
    const finding = FAULTS.at(-1);
    expect(finding && findingText(finding, 'N').explains).toContain('plain string formula');
  });
});
