import { newtons, type TensionUnit, tensionIn } from '../units.ts';
import type { ReportView } from './reportView.ts';
import { toCsv } from './toCsv.ts';

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

/**
 * The report's table of spokes as CSV, one line a spoke, units in the head.
 *
 * @param unit Of all tensions.
 */
export function reportCsv(report: ReportView, unit: TensionUnit): string {
  const tension = (value: number | undefined) =>
    value === undefined ? undefined : round(tensionIn(newtons(value), unit), unit === 'N' ? 1 : 2);
  const head = [
    'spoke',
    'side',
    `tension (${unit})`,
    `U, k = 2 (${unit})`,
    `u own (${unit})`,
    `u common (${unit})`,
    'deviation from side mean (%)',
    'U of deviation, k = 2 (%)',
    'evenness',
    `limit (${unit})`,
    'against limit',
    'outlier (robust z)',
    'plucks',
    'tones used (Hz)',
    'modes',
    'no reading because',
  ];
  const rows = report.spokes.map(({ judged, plucks, tones }) => {
    const { reading, limit, evenness } = judged;
    const taken = reading?.ok ? reading : undefined;
    return [
      judged.number,
      judged.side,
      tension(taken?.tensionN),
      taken && tension(2 * Math.hypot(taken.uOwnN, taken.uCommonN)),
      tension(taken?.uOwnN),
      tension(taken?.uCommonN),
      evenness && round(evenness.deviationPercent, 2),
      evenness && round(evenness.expandedPercent, 2),
      evenness?.word,
      tension(limit?.limit?.value),
      limit?.word,
      judged.outlierZ === undefined ? undefined : round(judged.outlierZ, 1),
      plucks,
      tones.map((tone) => tone.frequencyHz.toFixed(2)).join(' '),
      tones.map((tone) => tone.mode).join(' '),
      reading && !reading.ok ? reading.reason : reading ? undefined : 'notHeard',
    ];
  });
  return toCsv([head, ...rows]);
}
