import { beforeAfterStrip } from '../../../../drawing/beforeAfterStrip.ts';
import type { ReportView } from '../../../../spokes/reportView.ts';
import type { Round, Wheel } from '../../../../spokes/wheel.ts';
import { Drawing } from '../../../parts/Drawing.tsx';
import type { Judgement } from '../../judge/judgementOf.ts';
import { stripOf } from '../../judge/stripOf.ts';
import { useJudgement } from '../../judge/useJudgement.ts';
import { inUnit, signedInUnit } from '../inUnit.ts';
import { roundName } from '../roundName.ts';

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
  const changed = (report.before ?? []).filter((one) => Math.abs(one.afterN - one.beforeN) > 2 * one.uChangeN);
  return (
    <section class="keep">
      <h2>Before and after</h2>
      <p>Rings: {roundName(before)}. Marks: this round. A change counts beyond twice its standard uncertainty.</p>
      <Drawing
        tree={beforeAfterStrip(stripOf(wheel, earlier), stripOf(wheel, judgement), {
          label: 'Before as rings, after as marks, both on one scale.',
          width: 640,
        })}
      />
      <p>
        {changed.length === 0
          ? 'No spoke changed by more than the uncertainty of the change.'
          : `Changed: ${changed
              .map(
                (one) =>
                  `${one.spoke} (${inUnit(one.beforeN, unit)} to ${inUnit(one.afterN, unit)}, ${signedInUnit(one.afterN - one.beforeN, unit)} ${unit})`,
              )
              .join('; ')}.`}
      </p>
    </section>
  );
}
