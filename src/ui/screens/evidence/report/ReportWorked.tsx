import type { ReportView } from '../../../../spokes/reportView.ts';
import { workedBounds } from '../../../../spokes/workedBounds.ts';
import { hertz } from '../../../../units.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../../text/uncertainInputText.ts';

/** One spoke to follow with a calculator, in newtons. */
export function ReportWorked({ report }: { readonly report: ReportView }) {
  const { worked } = report;
  const row = report.spokes.find((one) => one.judged.number === worked?.spoke);
  const reading = row?.judged.reading;
  const member = report.members.find((one) => one.side === row?.judged.side && one.kind.id === row?.kindId);
  if (worked === undefined || reading?.ok !== true || member === undefined) return null;
  const bounds = workedBounds(
    member.described.described.member,
    worked.massPerLengthKgM,
    worked.freeLengthM,
    hertz(worked.firstHz),
  );
  const parts = reading.contributions;
  const limit = row?.judged.limit;
  const expanded = 2 * Math.hypot(reading.uOwnN, reading.uCommonN);
  const n = (value: number) => value.toFixed(0);
  return (
    <section class="keep">
      <h2>One spoke to follow with a calculator: {worked.spoke}</h2>
      <ol class="worked">
        <li>
          Lowest tone f = {worked.firstHz.toFixed(2)} Hz, free length L = {worked.freeLengthM.toFixed(4)} m, mass per
          length over it μ = {worked.massPerLengthKgM.toFixed(6)} kg/m.
        </li>
        <li>
          As a plain string: 4 μ L² f² = 4 × {worked.massPerLengthKgM.toFixed(6)} × {worked.freeLengthM.toFixed(4)}² ×{' '}
          {worked.firstHz.toFixed(2)}² = {n(worked.stringN)} N. A string has no stiffness, so this is too much.
        </li>
        {bounds && (
          <>
            <li>
              With the stiffness EI = {bounds.bending.toFixed(4)} N·m² and ends that turn freely: 4 μ L² f² − π² EI/L² ={' '}
              {n(bounds.pinned)} N.
            </li>
            <li>
              With ends that cannot turn: the T for which f = 1/(2L) √(T/μ) √(1 + B) (1 + (2/π) √B + (4/π²) B), B = π²
              EI/(T L²); that is {n(bounds.clamped)} N. (Put it in, and f comes out.)
            </li>
            <li>
              The spoke lies between the two. Where, its other tones tell together with those of the whole side: T ={' '}
              {n(worked.tensionN)} N, {worked.factor.toFixed(3)} of the plain string’s.
            </li>
          </>
        )}
        <li>
          Its standard uncertainties, N:{' '}
          {parts.map((part) => `${UNCERTAIN_INPUT_TEXT[part.input].name} ${part.uN.toFixed(1)}`).join(', ')}. Root of
          the sum of squares {Math.hypot(reading.uOwnN, reading.uCommonN).toFixed(1)}, doubled: U = {n(expanded)} N.
        </li>
        {limit?.limit !== undefined && (
          <li>
            Verdict: {n(limit.tension - limit.expanded)} to {n(limit.tension + limit.expanded)} N against the{' '}
            {limit.limit.kind} of {n(limit.limit.value)} N.
          </li>
        )}
      </ol>
    </section>
  );
}
