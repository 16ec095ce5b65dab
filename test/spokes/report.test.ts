import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { MeasureReason } from '../../src/contract.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { beforeAfter } from '../../src/spokes/beforeAfter.ts';
import { judgeWheel } from '../../src/spokes/judgeWheel.ts';
import { readRound } from '../../src/spokes/readRound.ts';
import { readSheet } from '../../src/spokes/readSheet.ts';
import { readTable } from '../../src/spokes/readTable.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import { reportCsv } from '../../src/spokes/reportCsv.ts';
import { reportView } from '../../src/spokes/reportView.ts';
import { toCsv } from '../../src/spokes/toCsv.ts';
import { tonesByMode } from '../../src/spokes/tonesByMode.ts';
import { readWheelFile, writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { judgement, prepare, readings, report, round, truth, wheel } from './simulatedReport.ts';
import { simulatedRound } from './simulatedRound.ts';

describe('the report', () => {
  it('has a worked line that a calculator follows', () => {
    const { worked } = report;
    if (!worked) throw new Error('no worked line');
    const { bounds, tensionN, firstHz } = worked;
    const { massPerLength, freeLength, bending, string, pinned, clamped } = bounds;
    expect(4 * massPerLength * (freeLength * firstHz) ** 2).toBeCloseTo(string, 9);
    expect(string - (Math.PI ** 2 * bending) / freeLength ** 2).toBeCloseTo(pinned, 9);
    // What the report says of the tension must hold: between what free ends and held ends make of the tone.
    expect(tensionN).toBeLessThan(pinned);
    expect(tensionN).toBeGreaterThan(clamped?.tension ?? Number.POSITIVE_INFINITY);
    // Put the clamped tension into its formula, and the tone comes out.
    const {
      length,
      massPerLength: mu,
      bending: ei,
      tension,
    } = clamped ?? { length: 0, massPerLength: 0, bending: 0, tension: 0 };
    const b = (Math.PI ** 2 * ei) / (tension * length ** 2);
    const clampedHz =
      (Math.sqrt(tension / mu) / (2 * length)) *
      Math.sqrt(1 + b) *
      (1 + (2 / Math.PI) * Math.sqrt(b) + (4 / Math.PI ** 2) * b);
    expect(clampedHz).toBeCloseTo(firstHz, 6);
  });

  it('prints figures that follow from the printed ones, and are the spoke’s own to the last digit but one', () => {
    const { worked } = report;
    const reading = report.spokes.find(({ judged }) => judged.number === worked?.spoke)?.judged.reading;
    if (!worked || !reading?.ok) throw new Error('no worked line');
    const { printed: p, bounds } = worked;
    // By hand, from what stands on the page.
    expect(p.stringN).toBe(Math.round(4 * p.massPerLength * p.freeLengthM ** 2 * p.firstHz ** 2));
    expect(p.stiffnessN).toBe(Math.round((Math.PI ** 2 * p.bending) / p.freeLengthM ** 2));
    expect(p.pinnedN).toBe(p.stringN - p.stiffnessN);
    expect(p.factor).toBe(Number((p.tensionN / p.stringN).toFixed(3)));
    expect(p.rootN).toBe(Number(Math.sqrt(p.partsN.reduce((sum, one) => sum + one ** 2, 0)).toFixed(2)));
    expect(p.expandedN).toBe(Number((2 * p.rootN).toFixed(1)));
    expect(p.limit?.fromN).toBe((p.limit?.tensionN ?? 0) - (p.limit?.expandedN ?? 0));
    expect(p.limit?.toN).toBe((p.limit?.tensionN ?? 0) + (p.limit?.expandedN ?? 0));
    // Half a last digit of each figure put in, and half a newton of the result.
    const put = 5e-3 / p.firstHz + 5e-5 / p.freeLengthM;
    const newtonsOff = 0.5 + bounds.string * (2 * put + 5e-7 / p.massPerLength);
    expect(Math.abs(p.stringN - bounds.string)).toBeLessThanOrEqual(newtonsOff);
    expect(Math.abs(p.rootN - Math.hypot(reading.uOwnN, reading.uCommonN))).toBeLessThan(0.02);
    expect(Math.abs(p.expandedN - 2 * Math.hypot(reading.uOwnN, reading.uCommonN))).toBeLessThan(0.1);
  });

  it('shows the worked spoke’s tones as heard beside the member’s own at the tension found', () => {
    const tones = report.worked?.tones ?? [];
    expect(tones.map((tone) => tone.mode)).toEqual([1, 2, 3]);
    // The simulated tones are exact modes of the same member, sure to 0.02 %: what is left is the end stiffness that the fit found.
    for (const { heardHz, modelHz } of tones) expect(Math.abs(modelHz / heardHz - 1)).toBeLessThan(0.003);
  });

  it('tells the ends’ stiffness in newton metres per radian, from which the clampedness follows', () => {
    for (const { ends, learned, described } of report.members) {
      if (!ends || !learned) throw new Error('nothing learned');
      const tensions = report.spokes.flatMap(({ judged }) =>
        judged.side === described.spoke.side && judged.reading?.ok ? [judged.reading.tensionN as number] : [],
      );
      const mean = Math.exp(tensions.reduce((sum, one) => sum + Math.log(one), 0) / tensions.length);
      // MODEL.md: c = k/(k + √(T·EI)), for one wire of one stiffness from end to end but its nipple.
      const [wire] = described.described.member.sections;
      const c = ends.rimNmPerRad / (ends.rimNmPerRad + Math.sqrt(mean * (wire?.bendingInPlane ?? 0)));
      expect(Math.abs(c - learned.rimEnd.value)).toBeLessThan(0.02);
    }
  });

  it('has a budget a side whose parts make up the whole', () => {
    expect(report.members.map((member) => member.side).toSorted()).toEqual(['left', 'right']);
    for (const member of report.members) {
      const total = Math.sqrt(member.budget.reduce((sum, part) => sum + part.percent ** 2, 0));
      expect(total).toBeCloseTo(Math.hypot(member.uOwnPercent, member.uCommonPercent), 1);
    }
  });

  it('says which settings of the microphone still edit the sound', () => {
    const settings = { sampleRateHz: 48000 as never, echoCancellation: false, noiseSuppression: true };
    const view = reportView(wheel, { ...round, settings }, readings, judgement);
    expect(view.processing).toEqual(['noiseSuppression']);
  });

  it('tells before and after by what is the spokes’ own', () => {
    const slacker = readRound(
      wheel,
      simulatedRound(
        wheel,
        truth.map((value, i) => (i === 4 ? 1010 : value)),
      ),
      prepare,
    );
    const after = judgeWheel(wheel, round, slacker.readings);
    const rows = beforeAfter(after, readings);
    const turned = rows.find((row) => row.spoke === 5);
    expect((turned?.afterN ?? 0) - (turned?.beforeN ?? 0)).toBeLessThan(-200);
    for (const row of rows)
      if (row.spoke !== 5) expect(Math.abs(row.afterN - row.beforeN)).toBeLessThan(3 * row.uChangeN);
  });

  it('compares rounds of different states only after correction, or says why not', () => {
    const earlier = { ...round, id: 'earlier', state: { tyre: 'on', pressureBar: 6 } } as const;
    const before = { round: earlier, readings };
    const plain = reportView(wheel, round, readings, judgement, { round, readings }).before;
    expect(plain).toMatchObject({ spokes: { length: 32 } });
    expect(plain?.otherState).toBeUndefined();
    // No rim stiffness class: no correction, and no row that could be read as a change.
    const refused = reportView(wheel, round, readings, judgement, before).before;
    expect(refused).toMatchObject({ spokes: [], otherState: { reason: 'rimClassMissing' } });
    if (wheel.layout.kind !== 'laced') throw new Error('layout');
    const rim = { ...wheel.layout.rim, material: 'aluminium', stiffnessClass: 'medium' } as const;
    const known = { ...wheel, layout: { ...wheel.layout, rim } };
    const corrected = reportView(known, round, readings, judgement, before).before;
    // An inflated tyre takes 5 to 15 % off (common practice): without it every spoke stood a ninth higher, ± 2 · 6.4 %.
    for (const row of corrected?.spokes ?? []) {
      expect(Math.abs(row.beforeN / row.afterN - 1 / 0.9)).toBeLessThan(0.02);
      expect(row.uChangeN / row.afterN).toBeGreaterThan(0.03);
    }
    expect(corrected?.spokes.filter((row) => Math.abs(row.afterN - row.beforeN) > 4 * row.uChangeN)).toEqual([]);
    expect(corrected?.otherState).toHaveProperty('meanShiftN');
  });

  it('as CSV has one line a spoke, its units in the head, and is read again by the table reader', () => {
    const text = reportCsv(report, 'kgf');
    const table = readTable(text);
    expect(table.problems).toEqual([]);
    expect(table.rows).toHaveLength(32);
    expect(table.head?.cells).toContain('tension (kgf)');
    const fifth = table.rows[4]?.cells ?? [];
    const reading = readings.readings.get(5);
    expect(Number(fifth[2])).toBeCloseTo(reading?.ok ? reading.tensionN / 9.80665 : 0, 2);
    expect(fifth).toContain('tight');
    // Checked as somebody else's sheet it is its tensions, not its limits or uncertainties.
    const sheet = readSheet(text);
    expect(sheet.problems).toEqual([]);
    expect(sheet.unit).toBe('kgf');
    expect(sheet.right[2]).toBe(Number(fifth[2]));
    expect([sheet.left.length, sheet.right.length]).toEqual([16, 16]);
  });

  it('as CSV has no column and no reason that the page on wheel files does not explain', () => {
    const page = readFileSync(new URL('../../docs/wheel-file.md', import.meta.url), 'utf8');
    const heads = readTable(reportCsv(report, 'N')).head?.cells ?? [];
    expect(heads).toHaveLength(16);
    for (const head of heads) expect(page).toContain(`\`${head.replace(/ \(N\)$/, '')}\``);
    const reasons: Record<MeasureReason, true> = {
      noTones: true,
      memberIncomplete: true,
      memberImpossible: true,
      belowBendingTone: true,
      outOfRange: true,
      tonesContradictMember: true,
      numberingAmbiguous: true,
      pairOnly: true,
    };
    const line = page.split('\n').find((one) => one.startsWith('| `no reading because`')) ?? '';
    for (const reason of Object.keys(reasons)) expect(line).toContain(`\`${reason}\``);
  });

  it('comes out the same to 0.01 % after the wheel was written, handed over and read', () => {
    const handed = readWheelFile(writeWheelFile({ ...wheel, rounds: [round] }));
    if (!handed.ok) throw new Error('file');
    const [again] = handed.wheel.rounds;
    if (!again) throw new Error('round');
    const there = readRound(handed.wheel, again, rememberPrepared(prepareMember));
    for (const [spoke, reading] of readings.readings) {
      const other = there.readings.get(spoke);
      if (!reading.ok || !other?.ok) throw new Error(`spoke ${spoke}`);
      expect(Math.abs(other.tensionN / reading.tensionN - 1)).toBeLessThan(1e-4);
    }
  });
});

describe('CSV', () => {
  it('quotes as RFC 4180 does', () => {
    expect(
      toCsv([
        ['a', 'b "c"', 'd,e', 1.5, undefined],
        ['line\nbreak', 'ä', -3],
      ]),
    ).toBe('a,"b ""c""","d,e",1.5,\r\n"line\nbreak",ä,-3\r\n');
  });

  it('is no formula in a spreadsheet', () => {
    expect(toCsv([['=SUM(A1)', '+1', '@x', '-y']])).toBe("'=SUM(A1),'+1,'@x,'-y\r\n");
  });
});

describe('the tones of a spoke in a table', () => {
  it('stand once a mode, with how often each was heard', () => {
    const tone = (mode: number, frequencyHz: number) => ({ mode, frequencyHz, family: 'segment' });
    expect(tonesByMode([tone(2, 901), tone(1, 450), tone(1, 452)])).toEqual([
      { mode: 1, frequencyHz: 451, count: 2 },
      { mode: 2, frequencyHz: 901, count: 1 },
    ]);
  });

  it('of the part at the hub are never mixed with the plucked part’s of the same number', () => {
    const tones = [
      { mode: 2, frequencyHz: 906, family: 'segment' },
      { mode: 2, frequencyHz: 2556, family: 'hub' },
    ];
    expect(tonesByMode(tones)).toEqual([
      { mode: 2, frequencyHz: 906, count: 1 },
      { mode: 2, family: 'hub', frequencyHz: 2556, count: 1 },
    ]);
  });
});
