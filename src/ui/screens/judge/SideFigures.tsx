import type { ComponentChildren } from 'preact';
import type { Side, Wheel } from '../../../spokes/wheel.ts';
import type { Judgement } from './judgementOf.ts';
import { showTension, signed, tensionText } from './showTension.ts';

/** Each side by itself: mean and spread, every figure with its definition on tap. */
export function SideFigures({ wheel, judgement }: { readonly wheel: Wheel; readonly judgement: Judgement }) {
  if (judgement.kind === 'evenness') return <EvennessFigures wheel={wheel} judgement={judgement} />;
  return (
    <>
      <h2>Sides</h2>
      <p class="soft no-print">Tap a figure for its definition.</p>
      <div class="sides">
        <OneSide side="left" judgement={judgement} />
        <OneSide side="right" judgement={judgement} />
      </div>
      <Ratio judgement={judgement} />
    </>
  );
}

function OneSide({ side, judgement }: { readonly side: Side; readonly judgement: Judgement }) {
  const judged = judgement.judged.sides[side];
  if (judged === undefined) return <section aria-label={side} />;
  const { statistics } = judged;
  const mean = showTension(statistics.mean, 2 * judged.uMeanN, judgement.unit);
  const percent = (value: number | undefined) => (value === undefined ? '–' : `${value.toFixed(1)} %`);
  const name = side === 'left' ? 'Left' : 'Right';
  return (
    <section aria-label={`${name} side`}>
      <h3>
        {name}, {statistics.count} spokes
      </h3>
      <Metric name="Mean" value={`${mean.value} ± ${mean.plusMinus} ${mean.unit}`}>
        Sum of this side’s tensions over their number. Its ± holds what the side shares, such as the mass of its spokes;
        more spokes do not shrink that.
      </Metric>
      <Metric name="Standard deviation" value={percent(statistics.percent.standardDeviation)}>
        Square root of the sum of squared distances from the mean over n − 1, in percent of the mean.
      </Metric>
      <Metric name="Range" value={percent(statistics.percent.range)}>
        Highest less lowest ({tensionText(statistics.highest, judgement.unit)} −{' '}
        {tensionText(statistics.lowest, judgement.unit)}), in percent of the mean.
      </Metric>
      <Metric name="Mean absolute deviation" value={percent(statistics.percent.meanAbsoluteDeviation)}>
        Mean distance from the mean, signs left out, in percent of the mean.
      </Metric>
      <Metric name="Largest deviation" value={percent(statistics.percent.maximumDeviation)}>
        Of the spoke farthest from the mean, in percent of the mean.
      </Metric>
    </section>
  );
}

function Ratio({ judgement }: { readonly judgement: Judgement }) {
  const ratio = judgement.judged.ratio;
  if (ratio === undefined) return null;
  return (
    <section aria-label="Sides against each other">
      <h3>Left against right</h3>
      <Metric name="Measured" value={`${ratio.measured.ratio.toFixed(3)} ± ${(2 * ratio.measured.u).toFixed(3)}`}>
        Mean of the left over mean of the right.
      </Metric>
      <Metric
        name="Demanded by the hub"
        value={`${ratio.expected.ratio.toFixed(3)} ± ${(2 * ratio.expected.u).toFixed(3)}`}
      >
        Where the rim stands still, the sideways pulls of both sides cancel; flange distances and dish are taken as good
        to 0.5 mm.
      </Metric>
      <p>
        {ratio.agrees
          ? 'They agree.'
          : `They disagree by ${signed(ratio.offPercent)} %: a hub dimension is wrong, the wheel is not dished, or one side’s spokes are not as described.`}
      </p>
    </section>
  );
}

function EvennessFigures({ wheel, judgement }: { readonly wheel: Wheel; readonly judgement: Judgement }) {
  return (
    <>
      <h2>Sides</h2>
      <p>
        Relative to each side’s own mean; target ± {wheel.targetPercent} %. A tone’s 1 % is between 2.1 and 3.1 % of
        tension, which is in the ±. No tension is shown: the spokes are not described.
      </p>
      <div class="sides">
        {(['left', 'right'] as const).map((side) => {
          const known = [...judgement.spokes.values()].flatMap((spoke) =>
            spoke.side === side && spoke.evenness !== undefined ? [spoke.evenness.deviationPercent] : [],
          );
          if (known.length === 0) return null;
          return (
            <section key={side} aria-label={`${side} side`}>
              <h3>
                {side === 'left' ? 'Left' : 'Right'}, {known.length} spokes
              </h3>
              <Metric name="From" value={`${signed(Math.min(...known))} %`}>
                The slackest spoke against its side’s mean.
              </Metric>
              <Metric name="to" value={`${signed(Math.max(...known))} %`}>
                The tightest spoke against its side’s mean.
              </Metric>
            </section>
          );
        })}
      </div>
    </>
  );
}

/** A figure; its definition opens on tap. */
function Metric({
  name,
  value,
  children,
}: {
  readonly name: string;
  readonly value: string;
  readonly children: ComponentChildren;
}) {
  return (
    <details class="metric">
      <summary>
        <span>{name}</span> <strong>{value}</strong>
      </summary>
      <p class="soft">{children}</p>
    </details>
  );
}
