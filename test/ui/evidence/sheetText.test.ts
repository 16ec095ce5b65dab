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

  it('says by name what would explain a figure of the string formula', () => {
    const finding = FAULTS.at(-1);
    expect(finding && findingText(finding, 'N').explains).toContain('plain string formula');
  });
});
