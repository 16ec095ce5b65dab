import type { ReportView } from '../../../spokes/reportView.ts';
import type { Judgement } from '../judge/judgementOf.ts';
import { signed } from '../judge/showTension.ts';

/** The table of all spokes; its head is repeated on every printed page. */
export function SpokeRows({ report, judgement }: { readonly report: ReportView; readonly judgement: Judgement }) {
  const absolute = judgement.kind === 'tension';
  return (
    <div class="table-frame">
      <table class="report-table">
        <thead>
          <tr>
            <th scope="col">Spoke</th>
            <th scope="col">Side</th>
            {absolute && <th scope="col">Tension ± U, {judgement.unit}</th>}
            <th scope="col">From side’s mean ± U, %</th>
            <th scope="col">Verdict</th>
            <th scope="col">Plucks</th>
            <th scope="col">Tones used, Hz (mode)</th>
          </tr>
        </thead>
        <tbody>
          {report.spokes.map((row) => {
            const spoke = judgement.spokes.get(row.judged.number);
            return (
              <tr key={row.judged.number}>
                <th scope="row">{row.judged.number}</th>
                <td>{row.judged.side}</td>
                {absolute && (
                  <td>{spoke?.figure === undefined ? '–' : `${spoke.figure.value} ± ${spoke.figure.plusMinus}`}</td>
                )}
                <td>
                  {spoke?.evenness === undefined
                    ? '–'
                    : `${signed(spoke.evenness.deviationPercent)} ± ${spoke.evenness.expandedPercent.toFixed(1)}`}
                </td>
                <td>{spoke?.word ?? 'not heard'}</td>
                <td>{row.plucks}</td>
                <td>{row.tones.map((tone) => `${tone.frequencyHz.toFixed(1)} (${tone.mode})`).join(', ')}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
