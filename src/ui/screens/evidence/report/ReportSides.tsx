import type { JudgedSide } from '../../../../spokes/judgeWheel.ts';
import type { ReportView } from '../../../../spokes/reportView.ts';
import type { TensionUnit } from '../../../../units.ts';
import { signed } from '../../judge/showTension.ts';
import { inUnit } from '../inUnit.ts';
import { WideTable } from '../WideTable.tsx';

const METRIC = {
  mean: {
    name: 'mean',
    definition:
      'Sum of the tensions of a side over their number, n. Of the spokes’ own parts √(Σ u²)/n is left in its U; the shared part does not average out.',
  },
  standardDeviation: {
    name: 'standard deviation',
    definition: 'Root of the sum of squared deviations from the mean over n − 1; percent of the mean.',
  },
  range: { name: 'range', definition: 'Highest less lowest; percent of the mean.' },
  meanAbsoluteDeviation: {
    name: 'mean absolute deviation',
    definition: 'Mean of the deviations from the mean, signs left out; percent of the mean.',
  },
  maximumDeviation: { name: 'largest deviation', definition: 'From the mean, sign left out; percent of the mean.' },
} as const;

const SPREADS = ['standardDeviation', 'range', 'meanAbsoluteDeviation', 'maximumDeviation'] as const;

/** Each side by itself, every figure with the rule that it follows. */
export function ReportSides({ report, unit }: { readonly report: ReportView; readonly unit: TensionUnit }) {
  const { left, right } = report.sides;
  const ratio = report.judgement.ratio;
  const percent = (side: JudgedSide | undefined, what: (typeof SPREADS)[number]) => {
    const value = side?.statistics.percent[what];
    return value === undefined ? '–' : `${value.toFixed(1)} %`;
  };
  const mean = (side: JudgedSide | undefined) =>
    side === undefined ? '–' : `${inUnit(side.statistics.mean, unit)} ± ${inUnit(2 * side.uMeanN, unit)} ${unit}`;
  return (
    <section class="keep">
      <h2>Sides</h2>
      <WideTable label="Figures of the sides">
        <table class="figures defined">
          <thead>
            <tr>
              <th scope="col">Figure</th>
              <th scope="col" class="number">
                Left
              </th>
              <th scope="col" class="number">
                Right
              </th>
              <th scope="col">Definition</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">spokes</th>
              <td class="number">{left?.statistics.count ?? 0}</td>
              <td class="number">{right?.statistics.count ?? 0}</td>
              <td>With a tension.</td>
            </tr>
            <tr>
              <th scope="row">{METRIC.mean.name}</th>
              <td class="number">{mean(left)}</td>
              <td class="number">{mean(right)}</td>
              <td>{METRIC.mean.definition}</td>
            </tr>
            {SPREADS.map((one) => (
              <tr key={one}>
                <th scope="row">{METRIC[one].name}</th>
                <td class="number">{percent(left, one)}</td>
                <td class="number">{percent(right, one)}</td>
                <td>{METRIC[one].definition}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <p>
        {ratio === undefined
          ? 'Left over right could not be compared with the hub: a side has no tension, or the hub is not described.'
          : `Left over right: measured ${ratio.measured.ratio.toFixed(3)} ± ${(2 * ratio.measured.u).toFixed(3)}, demanded by the hub ${ratio.expected.ratio.toFixed(3)} ± ${(2 * ratio.expected.u).toFixed(3)}; ${
              ratio.agrees
                ? 'they agree.'
                : `they differ by ${signed(ratio.offPercent)} %, more than both allow: a hub dimension, the dish, or the description of one side’s spokes.`
            } Demanded: both sides must pull the rim equally sideways, Σ T sin γ left = Σ T sin γ right, γ the angle of each spoke against the wheel’s plane.`}
      </p>
    </section>
  );
}
