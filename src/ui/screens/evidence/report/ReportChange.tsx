import type { ReportView } from '../../../../spokes/reportView.ts';
import type { Round, Wheel } from '../../../../spokes/wheel.ts';
import { Drawing } from '../../../parts/Drawing.tsx';
import type { Judgement } from '../../judge/judgementOf.ts';
import { useJudgement } from '../../judge/useJudgement.ts';
import { inUnit, signedInUnit } from '../inUnit.ts';
import { STATE_REASON_TEXT } from '../otherStateText.ts';
import { roundName } from '../roundName.ts';
import { WideTable } from '../WideTable.tsx';
import { stateText } from './ReportHead.tsx';
import { changePicture } from './reportPictures.ts';

interface Props {
  readonly wheel: Wheel;
  readonly before: Round;
  readonly judgement: Judgement;
  readonly report: ReportView;
}

/** What became of each spoke since an earlier round. */
export function ReportChange({ wheel, before, judgement, report }: Props) {
  const earlier = useJudgement(wheel, before);
  const { unit } = judgement;
  const { spokes = [], otherState } = report.before ?? {};
  const changed = spokes.filter((one) => Math.abs(one.afterN - one.beforeN) > 2 * one.uChangeN);
  const start =
    otherState &&
    `Before, the wheel stood otherwise (${stateText(otherState.state)}) than in this round (${stateText(report.round.state)})`;
  if (otherState && 'reason' in otherState)
    return (
      <section class="keep">
        <h2>Before and after</h2>
        <p class="note caution">
          {start}, and {STATE_REASON_TEXT[otherState.reason]}. The two rounds cannot be compared in tension; each one’s
          deviations from its side’s mean can.
        </p>
      </section>
    );
  return (
    <section>
      <div class="keep">
        <h2>Before and after</h2>
        <p>Rings: {roundName(before)}. Marks: this round.</p>
        {otherState && (
          <p class="note">
            {start}. The changes below are counted after correction to this round’s state, by{' '}
            {signedInUnit(otherState.meanShiftN, unit)} ± {inUnit(2 * otherState.uN, unit)} {unit} on average, the ±
            within them; the rings are as heard.
          </p>
        )}
        <Drawing tree={changePicture(wheel, earlier, judgement)} />
      </div>
      <p>
        {report.before === undefined
          ? 'Measuring …'
          : spokes.length === 0
            ? 'No spoke has a tension in both rounds, so no change in tension can be told. Deviations from the side’s mean stand side by side above.'
            : changed.length === 0
              ? 'No spoke changed by more than the uncertainty of the change.'
              : `${changed.length} of ${spokes.length} spokes changed by more than the uncertainty of the change.`}
      </p>
      {spokes.length > 0 && (
        <WideTable label="Before and after, spoke by spoke">
          <table>
            <thead>
              <tr>
                <th scope="col">Spoke</th>
                <th scope="col" class="number">
                  Before{otherState && ', corrected'}, {unit}
                </th>
                <th scope="col" class="number">
                  After, {unit}
                </th>
                <th scope="col" class="number">
                  Change ± U, {unit}
                </th>
                <th scope="col">Verdict</th>
              </tr>
            </thead>
            <tbody>
              {spokes.map((one) => (
                <tr key={one.spoke}>
                  <th scope="row">
                    {one.spoke} {one.side === 'left' ? 'L' : 'R'}
                  </th>
                  <td class="number">{inUnit(one.beforeN, unit)}</td>
                  <td class="number">{inUnit(one.afterN, unit)}</td>
                  <td class="number">
                    {signedInUnit(one.afterN - one.beforeN, unit)} ± {inUnit(2 * one.uChangeN, unit)}
                  </td>
                  <td>{changed.includes(one) ? 'changed' : 'no change shown'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      )}
    </section>
  );
}
