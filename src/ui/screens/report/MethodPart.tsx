import type { ReportMember, ReportView } from '../../../spokes/reportView.ts';
import { inMillimetres } from '../../../units.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../text/uncertainInputText.ts';

/** The method in words and equations, each member as it was computed, and what the uncertainty is made of. */
export function MethodPart({ report }: { readonly report: ReportView }) {
  return (
    <>
      <h2>Method</h2>
      <p>
        Each spoke is plucked and recorded; its decaying tones are found by Fourier transform and fitted to zero
        amplitude. A tone belongs to a way in which the member swings: a stiff beam under tension, EI y″″ − T y″ + μ ÿ =
        0, in pieces of constant section from support to support, its ends held by rotational springs of unknown
        stiffness, resting on the crossing spoke where one touches. The tension T is the one at which the member’s
        natural frequencies, computed exactly, fit the tones of all spokes of a side together; the end stiffness is
        learnt from the upper tones.
      </p>
      <p>
        Intervals are U = 2u, about 95 %. u is split: what varies from spoke to spoke (own) and what the side shares
        (common). Evenness uses the own part alone; limits use both. A limit counts as kept only if the whole interval
        lies inside (decision rule after JCGM 106:2012).
      </p>
      <h3>Members</h3>
      <div class="table-frame">
        <table>
          <thead>
            <tr>
              <th scope="col">Side, kind</th>
              <th scope="col">Sections, from the hub (mm; g/m; bending along the rim, N m²)</th>
              <th scope="col">Length, free length (mm)</th>
              <th scope="col">Own, common u (%)</th>
            </tr>
          </thead>
          <tbody>
            {report.members.map((member) => (
              <MemberRow key={`${member.side} ${member.kind.id}`} member={member} />
            ))}
          </tbody>
        </table>
      </div>
      <h3>Uncertainty budget, percent of tension (1 u, root mean square over the side)</h3>
      <div class="sides">
        {report.members.map((member) => (
          <ul key={`${member.side} ${member.kind.id}`}>
            <li>
              <strong>
                {member.side}, {member.kind.name}
              </strong>
            </li>
            {member.budget.map((part) => (
              <li key={`${part.input} ${part.scope}`}>
                {UNCERTAIN_INPUT_TEXT[part.input].name}: {part.percent.toFixed(2)} %{' '}
                {part.scope === 'own' ? '(own)' : '(common)'}
              </li>
            ))}
          </ul>
        ))}
      </div>
      <Worked report={report} />
    </>
  );
}

function MemberRow({ member }: { readonly member: ReportMember }) {
  const { described, lengths } = member.described;
  return (
    <tr>
      <th scope="row">
        {member.side}, {member.kind.name}
      </th>
      <td>
        {described.member.sections
          .map(
            (s) =>
              `${inMillimetres(s.length).toFixed(1)}; ${(s.massPerLength * 1000).toFixed(2)}; ${s.bendingInPlane.toFixed(4)}`,
          )
          .join(' | ')}
      </td>
      <td>
        {inMillimetres(lengths.support).toFixed(1)}, {inMillimetres(lengths.free).toFixed(1)}
      </td>
      <td>
        {member.uOwnPercent.toFixed(2)}, {member.uCommonPercent.toFixed(2)}
      </td>
    </tr>
  );
}

/** One spoke that a reader follows with a calculator. */
function Worked({ report }: { readonly report: ReportView }) {
  const line = report.worked;
  if (line === undefined) return null;
  return (
    <section class="keep" aria-label="Worked line">
      <h3>One spoke by hand: {line.spoke}</h3>
      <p class="figures">
        As a plain string, T = 4 μ L² f² = 4 × {line.massPerLengthKgM.toFixed(6)} kg/m × ({line.freeLengthM.toFixed(4)}{' '}
        m)² × ({line.firstHz.toFixed(2)} Hz)² = {line.stringN.toFixed(0)} N. Stiffness, ends and the crossing of the
        member take it to {line.factor.toFixed(4)} of that: {line.tensionN.toFixed(0)} N.
      </p>
    </section>
  );
}
