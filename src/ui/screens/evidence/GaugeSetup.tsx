import { useState } from 'preact/hooks';
import type { Gauge } from '../../../spokes/gauge.ts';
import { CHART_SCHEME, type GaugeChart, readyChart } from '../../../spokes/gaugeChart.ts';
import { parseAlone } from '../../../spokes/parseFigure.ts';
import { readChart } from '../../../spokes/readChart.ts';
import { U_GAUGE_UNSTATED } from '../../../spokes/secondReadings.ts';
import { TENSION_UNITS, type TensionUnit } from '../../../units.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import { outOfScale } from './outOfScale.ts';
import { TextIn } from './TextIn.tsx';
import { tableProblemText } from './tableProblemText.ts';

interface Props {
  readonly gauge: Gauge;
  readonly onSave: (gauge: Gauge) => void;
}

export const UNITS = TENSION_UNITS.map((value) => ({ value, label: value }));

const asText = (chart: GaugeChart | undefined): string =>
  chart === undefined ? '' : chart.points.map((point) => `${point.reading}\t${point.tension}`).join('\n');

/** What the gauge is: entered once, kept in the wheel. */
export function GaugeSetup({ gauge, onSave }: Props) {
  const [name, setName] = useState(gauge.name);
  const [scale, setScale] = useState(gauge.scale);
  const [unit, setUnit] = useState<TensionUnit>(
    (gauge.scale === 'chart' ? (gauge.charts?.left ?? gauge.charts?.right)?.unit : undefined) ?? gauge.unit,
  );
  const [expanded, setExpanded] = useState(gauge.uPercent === undefined ? '' : `${2 * gauge.uPercent}`);
  const [calibrated, setCalibrated] = useState(gauge.calibrated ?? '');
  const [twoCharts, setTwoCharts] = useState(
    gauge.charts?.right !== undefined && asText(gauge.charts.left) !== asText(gauge.charts.right),
  );
  const [charts, setCharts] = useState({
    left: { section: gauge.charts?.left?.section ?? '', text: asText(gauge.charts?.left ?? gauge.charts?.right) },
    right: { section: gauge.charts?.right?.section ?? '', text: asText(gauge.charts?.right ?? gauge.charts?.left) },
  });
  const half = expanded.trim() === '' ? undefined : parseAlone(expanded);
  const badHalf = expanded.trim() !== '' && !(half !== undefined && half > 0 && half < 100);
  const built = { left: chartOf(charts.left, unit), right: chartOf(twoCharts ? charts.right : charts.left, unit) };
  const wrong = scale === 'chart' && (built.left.wrong.length > 0 || built.right.wrong.length > 0);
  const save = () =>
    onSave({
      id: gauge.id,
      name: name.trim() || 'Gauge',
      scale,
      unit: scale === 'direct' ? unit : gauge.unit,
      ...(scale === 'chart' && (built.left.chart || built.right.chart)
        ? {
            charts: {
              ...(built.left.chart ? { left: built.left.chart } : {}),
              ...(built.right.chart ? { right: built.right.chart } : {}),
            },
          }
        : {}),
      ...(half === undefined ? {} : { uPercent: half / 2 }),
      ...(calibrated.trim() === '' ? {} : { calibrated: calibrated.trim() }),
      rounds: gauge.rounds,
    });
  const chartField = (side: 'left' | 'right', label: string) => (
    <>
      <Field
        label={`${label}: spoke section`}
        kind="text"
        value={charts[side].section}
        placeholder="2.0 mm round steel"
        onInput={(section) => setCharts({ ...charts, [side]: { ...charts[side], section } })}
        effect="A chart holds for one section only."
      />
      <TextIn
        label={`${label}: reading and tension`}
        value={charts[side].text}
        effect={`A line a point. Between the points: ${CHART_SCHEME}; beyond them no tension is given. Without a chart its marks are no tensions; a round by ear can make one.`}
        onText={(text) => setCharts({ ...charts, [side]: { ...charts[side], text } })}
      />
      {built[side].wrong.length > 0 && charts[side].text.trim() !== '' && (
        <ul class="wrong-list" role="alert">
          {built[side].wrong.slice(0, 8).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
    </>
  );
  return (
    <section aria-label="The gauge">
      <Field label="Name of the gauge" kind="text" value={name} onInput={setName} />
      <Choices<Gauge['scale']>
        legend="What it shows"
        value={scale}
        options={[
          { value: 'direct', label: 'tension itself' },
          { value: 'chart', label: 'marks, with a chart' },
        ]}
        onChange={setScale}
      />
      <Choices<TensionUnit>
        legend={scale === 'direct' ? 'Unit of its readings' : 'Unit of the chart’s tensions'}
        value={unit}
        options={UNITS}
        onChange={setUnit}
      />
      {scale === 'chart' && (
        <>
          {chartField('left', twoCharts ? 'Left chart' : 'Chart')}
          <Choices<'one' | 'two'>
            legend="Spoke sections"
            value={twoCharts ? 'two' : 'one'}
            options={[
              { value: 'one', label: 'same on both sides' },
              { value: 'two', label: 'right side differs' },
            ]}
            onChange={(value) => setTwoCharts(value === 'two')}
          />
          {twoCharts && chartField('right', 'Right chart')}
        </>
      )}
      <Field
        label="Its own uncertainty, ±"
        unit="%"
        value={expanded}
        onInput={setExpanded}
        wrong={badHalf ? 'A percentage above 0 and below 100, or nothing.' : undefined}
        effect={`As its maker or its calibration states it, for about 19 of 20 readings (k = 2). Left empty, ±\u00a0${200 * U_GAUGE_UNSTATED} % is taken, common practice, and the report says so.`}
      />
      <Field
        label="Last calibration"
        kind="text"
        value={calibrated}
        onInput={setCalibrated}
        effect="When and against what. A gauge that was never checked proves nothing."
      />
      <button type="button" class="button" disabled={wrong || badHalf} onClick={save}>
        Keep this gauge
      </button>
    </section>
  );
}

function chartOf(
  typed: { readonly section: string; readonly text: string },
  unit: TensionUnit,
): { readonly chart?: GaugeChart; readonly wrong: readonly string[] } {
  if (typed.text.trim() === '') return { wrong: [] };
  const read = readChart(typed.text);
  const chart = { section: typed.section.trim(), unit, points: read.points };
  const problems = read.problems.map(({ line, reason, detail }) => tableProblemText(line, reason, detail));
  if (problems.length > 0) return { chart, wrong: problems };
  if (read.unit !== undefined && read.unit !== unit)
    return { chart, wrong: [`The chart’s head names ${read.unit}, and ${unit} is chosen above; use one.`] };
  const ready = readyChart(chart);
  if (!ready.ok)
    return {
      chart,
      wrong: ready.problems.map(({ row, reason, detail }) =>
        tableProblemText(read.lines[row - 1] ?? row, reason, detail),
      ),
    };
  const split = outOfScale(
    read.points.map((point) => point.tension),
    unit,
  );
  return { chart, wrong: split === undefined ? [] : [split] };
}
