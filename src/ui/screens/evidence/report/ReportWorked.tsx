import type { ReportView } from '../../../../spokes/reportView.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../../text/uncertainInputText.ts';
import { LIMIT_WORDS } from '../../judge/verdictWords.ts';

const PI_SQUARED_EI = 'π² EI/L²';

/** One spoke to follow with a calculator, in newtons. */
export function ReportWorked({ report }: { readonly report: ReportView }) {
  const { worked } = report;
  const row = report.spokes.find((one) => one.judged.number === worked?.spoke);
  const reading = row?.judged.reading;
  if (worked === undefined || reading?.ok !== true) return null;
  const { printed } = worked;
  const { clamped } = worked.bounds;
  const limit = row?.judged.limit;
  const n = (value: number) => value.toFixed(0);
  const hz = (value: number) => value.toFixed(1);
  const [first, length, mass] = [
    printed.firstHz.toFixed(2),
    printed.freeLengthM.toFixed(4),
    printed.massPerLength.toFixed(6),
  ];
  return (
    <section>
      <h2>One spoke to follow with a calculator: {worked.spoke}</h2>
      <p class="soft">All in newtons; 1 kgf = 9.80665 N, 1 lbf = 4.44822 N.</p>
      <ol class="worked">
        <li>
          Lowest tone f = {first} Hz, free length L = {length} m. Each piece of it counted by how far the lowest tone
          moves it, sin²(πx/L): mass per length μ = {mass} kg/m, stiffness EI
          {worked.plane === 'across' ? ' across the wheel' : ' along the rim'} = {printed.bending.toFixed(4)} N·m².
        </li>
        <li>
          As a plain string: 4 μ L² f² = 4 × {mass} × {length}² × {first}² = {n(printed.stringN)} N. A string has no
          stiffness, so this is too much.
        </li>
        <li>
          With ends that turn freely: 4 μ L² f² − {PI_SQUARED_EI} = {n(printed.stringN)} − {n(printed.stiffnessN)} ={' '}
          {n(printed.pinnedN)} N. The tone cannot mean more with these lengths and masses
          {worked.crossed ? ' and a crossing that does not give' : ''}.
        </li>
        <li>
          {clamped === undefined ? (
            'With ends that cannot turn, a wire all as stiff as its stiffest piece would ring higher than this with no tension at all: of a spoke so stepped this formula gives no lower bound.'
          ) : (
            <>
              With ends that cannot turn, the stiff nipple held along with them (L′ = {clamped.length.toFixed(4)} m, and
              of the pieces left the least μ′ = {clamped.massPerLength.toFixed(6)} kg/m and the largest EI′ ={' '}
              {clamped.bending.toFixed(4)} N·m²): the T for which f = 1/(2L′) √(T/μ′) √(1 + B) (1 + (2/π) √B + (4/π²)
              B), B = π² EI′/(T L′²); that is {n(clamped.tension)} N. (Put it in, and f comes out.) The tone cannot mean
              less.
            </>
          )}
        </li>
        <li>
          Its other tones tell where between, together with those of the whole side: T = {n(printed.tensionN)} N,{' '}
          {printed.factor.toFixed(3)} of the plain string’s. Heard, and in brackets the member’s own at this tension,
          Hz: {worked.tones.map((tone) => `${hz(tone.heardHz)} (${hz(tone.modelHz)})`).join(', ')}.
        </li>
        <li>
          Its standard uncertainties, N:{' '}
          {reading.contributions
            .map(
              (part, i) =>
                `${UNCERTAIN_INPUT_TEXT[part.input].name}${part.scope === 'own' ? ', its own part' : ''} ${printed.partsN[i]?.toFixed(2)}`,
            )
            .join('; ')}
          . Root of the sum of squares {printed.rootN.toFixed(2)}, doubled: U = {printed.expandedN.toFixed(1)} N.
        </li>
        {limit?.limit !== undefined && printed.limit !== undefined && (
          <li>
            {printed.limit.tensionN} ± {printed.limit.expandedN} N reaches from {printed.limit.fromN} to{' '}
            {printed.limit.toN} N; the limit nearest to it is the {limit.limit.kind} of {n(limit.limit.value)} N.
            Verdict: {LIMIT_WORDS[limit.word]}.
          </li>
        )}
      </ol>
    </section>
  );
}
