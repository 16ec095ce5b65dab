import type { ReportView } from '../../../../spokes/reportView.ts';
import { Fact } from './ReportHead.tsx';

/** The method in words, with the equations that it rests on. */
export const ReportMethod = () => (
  <section>
    <h2>Method</h2>
    <p>
      Each spoke is plucked along the rim (an uncrossed blade across the wheel), its crossing held between finger and
      thumb where another spoke touches it, and the sound is taken apart into decaying tones: frequency by the Fourier
      transform and a fit of damped sinusoids, the lowest tone checked by autocorrelation. The frequency meant is that
      of vanishing amplitude. Which tone is which follows from the member, from how loud each is and how long it rings.
    </p>
    <p>
      The spoke is a slender beam under tension, in pieces of their own mass and stiffness, turning against a spring at
      each end. Where another spoke touches, a spring across it stands for the pinch: how firm it is, nobody knows
      beforehand, and the tones of the whole side decide; beyond that crossing the beam goes on to the hub. In each
      piece
    </p>
    <p class="equation">EI ∂⁴y/∂x⁴ − T ∂²y/∂x² + μ ∂²y/∂t² = 0, &nbsp; at the ends EI ∂²y/∂x² = ± k ∂y/∂x</p>
    <p>
      with T tension, EI bending stiffness, μ mass per length, k rotational stiffness of the end. Its frequencies are
      found exactly, by dynamic stiffness and the count of Wittrick and Williams (1971). The tones of all spokes of a
      side are fitted together by generalised least squares: every spoke has its own tension, the ends have a common
      stiffness with a scatter that is sought, and errors of mass, length, crossing, stiffness and of the borders of
      sections, and how firmly the crossing is held, are shared within their stated uncertainties. What the tones do not
      tell stays in the uncertainty.
    </p>
    <p>
      Uncertainty follows the GUM (JCGM 100:2008): u<sub>own</sub> is what differs from spoke to spoke, u
      <sub>common</sub> what all spokes share; U = 2 √(u<sub>own</sub>² + u<sub>common</sub>²). A spoke is over a
      maximum only if T − U lies above it, under a minimum only if T + U lies below it, and within only if T − U and T +
      U lie between them (decision rule after JCGM 106:2012, guard band U); otherwise it cannot be cleared, or is
      probably over or under. Evenness uses u<sub>own</sub> alone, because what is shared cancels. A spoke stands out if
      it is farther from its side’s median than 3.5 robust standard deviations (Iglewicz and Hoaglin 1993): 1.4826 times
      the median absolute deviation, or the spokes’ usual u<sub>own</sub> where that is larger.
    </p>
    <p>
      Limits of the method: the spoke’s mass and length set the scale, and no number of tones tells them; an unknown end
      stiffness weighs more on short, thick and composite spokes; a spoke that rattles, touches where it is said not to,
      or is not as described, is read wrong or refused. A crossing held softly or a pluck across the wheel where one
      along the rim is meant is read less surely, and the interval then covers the tension less often than 19 times in
      20.
    </p>
  </section>
);

/** What the microphone said of itself. */
export function ReportSound({ report }: { readonly report: ReportView }) {
  const { settings, processing, round } = report;
  const switchText = (value: boolean | undefined) =>
    value === undefined ? 'not told by the browser' : value ? 'ON' : 'off';
  return (
    <section class="keep">
      <h2>Sound</h2>
      {settings === undefined ? (
        <p>
          The round holds no microphone settings: its tones were typed, or come from a file that does not name them.
        </p>
      ) : (
        <table class="facts">
          <tbody>
            <Fact name="Sample rate">{settings.sampleRateHz} samples a second, as read back</Fact>
            <Fact name="Microphone">{settings.deviceLabel || round.device || 'not named'}</Fact>
            <Fact name="Echo cancellation">{switchText(settings.echoCancellation)}</Fact>
            <Fact name="Noise suppression">{switchText(settings.noiseSuppression)}</Fact>
            <Fact name="Automatic gain">{switchText(settings.autoGainControl)}</Fact>
          </tbody>
        </table>
      )}
      {processing.length > 0 && (
        <p class="note caution">The system edited the sound while it was heard; that bends tones.</p>
      )}
    </section>
  );
}
