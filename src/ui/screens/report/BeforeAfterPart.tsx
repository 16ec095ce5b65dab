import type { ReportView } from '../../../spokes/reportView.ts';
import { newtons, tensionIn } from '../../../units.ts';
import type { Judgement } from '../judge/judgementOf.ts';

/** Change of each spoke since the round before; what both rounds share cancels. */
export function BeforeAfterPart({ report, judgement }: { readonly report: ReportView; readonly judgement: Judgement }) {
  if (report.before === undefined || report.before.length === 0 || judgement.kind === 'evenness') return null;
  const shown = (value: number) => tensionIn(newtons(value), judgement.unit).toFixed(0);
  return (
    <section aria-label="Before and after">
      <h2>Before and after, {judgement.unit}</h2>
      <div class="table-frame">
        <table>
          <thead>
            <tr>
              <th scope="col">Spoke</th>
              <th scope="col">Side</th>
              <th scope="col">Before</th>
              <th scope="col">After</th>
              <th scope="col">Change ± U</th>
            </tr>
          </thead>
          <tbody>
            {report.before.map((row) => (
              <tr key={row.spoke}>
                <th scope="row">{row.spoke}</th>
                <td>{row.side}</td>
                <td>{shown(row.beforeN)}</td>
                <td>{shown(row.afterN)}</td>
                <td>
                  {shown(row.afterN - row.beforeN)} ± {shown(2 * row.uChangeN)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
