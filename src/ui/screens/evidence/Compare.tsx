import '../../styles/evidence.css';
import { useMemo, useState } from 'preact/hooks';
import { compareMethods } from '../../../spokes/compareMethods.ts';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { Gauge, GaugeReading } from '../../../spokes/gauge.ts';
import { secondReadings } from '../../../spokes/secondReadings.ts';
import { walkOrder } from '../../../spokes/walkOrder.ts';
import type { Round, Side, Wheel } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { routeHref } from '../../parts/route.ts';
import { SelectField } from '../../parts/SelectField.tsx';
import { useActions, useStore } from '../../store/useStore.ts';
import { CrossCalibrated } from './CrossCalibrated.tsx';
import { EarRepeats } from './EarRepeats.tsx';
import { earReadings } from './earReadings.ts';
import { GaugeSetup } from './GaugeSetup.tsx';
import { PadEntry } from './PadEntry.tsx';
import { PairTable } from './PairTable.tsx';
import { PasteEntry } from './PasteEntry.tsx';
import { Repeats } from './Repeats.tsx';
import { roundName } from './roundName.ts';
import { SideAgreement } from './SideAgreement.tsx';
import { tableProblemText } from './tableProblemText.ts';
import { useMeasuredRound } from './useMeasuredRound.ts';

/** A round by ear beside a gauge: what the gauge is, what it read, and how far to believe each. */
export default function Compare({ wheel }: { readonly wheel: Wheel }) {
  const [roundId, setRoundId] = useState<string | undefined>(undefined);
  const round = wheel.rounds.find((one) => one.id === roundId) ?? wheel.rounds.at(-1);
  const laid = useMemo(() => expandLayout(wheel.layout), [wheel.layout]);
  const sides = useMemo(() => (laid.ok ? laid.spokes.map((spoke) => spoke.side) : []), [laid]);
  if (round === undefined || sides.length === 0)
    return (
      <main>
        <h2>Compare with a gauge</h2>
        <p>A comparison needs a round by ear first.</p>
        <a class="button main-action" href={routeHref({ screen: 'listen', wheelId: wheel.id })}>
          Listen
        </a>
      </main>
    );
  return (
    <main class="judge evidence">
      <h2>Compare with a gauge</h2>
      <p>
        Neither method is the truth. Laid side by side, each side of the wheel by itself, they tell how far to believe
        either.
      </p>
      {wheel.layout.kind === 'evenness' && (
        <p class="note caution">
          This wheel is described by its sides only, so the ear gives no tension that a gauge could be compared with.
          Describe its spokes first.
        </p>
      )}
      {wheel.rounds.length > 1 && (
        <SelectField
          label="Round by ear"
          value={round.id}
          options={wheel.rounds.toReversed().map((one) => ({ value: one.id, label: roundName(one) }))}
          onChange={setRoundId}
        />
      )}
      <WithGauge wheel={wheel} round={round} sides={sides} />
    </main>
  );
}

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly sides: readonly Side[];
}

function WithGauge({ wheel, round, sides }: Props) {
  const actions = useActions();
  const gauges = wheel.gauges ?? [];
  const [gaugeId, setGaugeId] = useState<string | undefined>(undefined);
  const [adding, setAdding] = useState(false);
  const gauge = gauges.find((one) => one.id === gaugeId) ?? gauges.at(-1);
  const save = (changed: Gauge) => {
    const known = gauges.some((one) => one.id === changed.id);
    actions.saveGauges(
      wheel.id,
      known ? gauges.map((one) => (one.id === changed.id ? changed : one)) : [...gauges, changed],
    );
    setGaugeId(changed.id);
    setAdding(false);
  };
  const fresh = (): Gauge => ({ id: actions.newId(), name: 'Gauge', scale: 'direct', unit: 'N', rounds: [] });
  if (gauge === undefined || adding)
    return (
      <>
        <h3>Which gauge?</h3>
        <GaugeSetup gauge={fresh()} onSave={save} />
        {adding && (
          <button type="button" class="button" onClick={() => setAdding(false)}>
            Leave it
          </button>
        )}
      </>
    );
  return (
    <>
      {gauges.length > 1 && (
        <SelectField
          label="Gauge"
          value={gauge.id}
          options={gauges.map((one) => ({ value: one.id, label: one.name }))}
          onChange={setGaugeId}
        />
      )}
      <details class="part">
        <summary>
          The gauge{' '}
          <span class="gist">
            {gauge.name}, {gauge.scale === 'direct' ? `reads ${gauge.unit}` : 'marks with a chart'}
            {gauge.uPercent === undefined ? ', uncertainty not stated' : `, ± ${2 * gauge.uPercent} %`}
          </span>
        </summary>
        <GaugeSetup key={gauge.id} gauge={gauge} onSave={save} />
        <button type="button" class="button" onClick={() => setAdding(true)}>
          Another gauge
        </button>
      </details>
      <Entry wheel={wheel} round={round} sides={sides} gauge={gauge} onSave={save} />
      <Result wheel={wheel} round={round} sides={sides} gauge={gauge} />
    </>
  );
}

function Entry({
  round,
  sides,
  gauge,
  onSave,
}: Props & { readonly gauge: Gauge; readonly onSave: (g: Gauge) => void }) {
  const actions = useActions();
  const person = useStore((state) => state.preferences.person);
  const [how, setHow] = useState<'pad' | 'paste'>('pad');
  const order = useMemo(() => walkOrder(round, sides), [round, sides]);
  const last = gauge.rounds.at(-1);
  const begun = (readings: readonly GaugeReading[]): Gauge['rounds'][number] => ({
    id: actions.newId(),
    at: actions.now(),
    ...(person ? { person } : {}),
    state: round.state,
    readings,
  });
  const unit = gauge.scale === 'direct' ? gauge.unit : 'marks';
  return (
    <details class="part" open={last === undefined}>
      <summary>
        Readings{' '}
        <span class="gist">
          {last === undefined
            ? 'none yet'
            : `${last.readings.length} spokes${gauge.rounds.length > 1 ? `, ${gauge.rounds.length} rounds` : ''}`}
        </span>
      </summary>
      <Choices<'pad' | 'paste'>
        legend="How"
        value={how}
        options={[
          { value: 'pad', label: 'spoke by spoke' },
          { value: 'paste', label: 'a table' },
        ]}
        onChange={setHow}
      />
      {how === 'pad' ? (
        <PadEntry
          key={last?.id ?? 'first'}
          order={order}
          sides={sides}
          unit={unit}
          readings={last?.readings ?? []}
          onChange={(readings) =>
            onSave({
              ...gauge,
              rounds: last ? [...gauge.rounds.slice(0, -1), { ...last, readings }] : [begun(readings)],
            })
          }
        />
      ) : (
        <PasteEntry
          gauge={gauge}
          order={order}
          onTake={(readings) => onSave({ ...gauge, rounds: [...gauge.rounds, begun(readings)] })}
        />
      )}
      {last !== undefined && (
        <div class="row">
          <button
            type="button"
            class="button"
            onClick={() => onSave({ ...gauge, rounds: [...gauge.rounds, begun([])] })}
          >
            Begin another round with this gauge
          </button>
          <button type="button" class="button" onClick={() => onSave({ ...gauge, rounds: gauge.rounds.slice(0, -1) })}>
            Delete its last round
          </button>
        </div>
      )}
    </details>
  );
}

function Result({ wheel, round, sides, gauge }: Props & { readonly gauge: Gauge }) {
  const unit = useStore((state) => state.preferences.tensionUnit);
  const measured = useMeasuredRound(wheel, round);
  const ear = useMemo(() => earReadings(measured), [measured]);
  const second = useMemo(() => secondReadings(gauge, sides), [gauge, sides]);
  const comparison = useMemo(() => compareMethods([ear], second.readings, sides), [ear, second, sides]);
  if (second.readings.size === 0 && second.chartProblems.length === 0 && second.outside.length === 0) return null;
  return (
    <section aria-label="Ear beside gauge">
      <h2>Ear beside gauge</h2>
      {(measured === undefined || measured.status === 'working') && <p role="status">Measuring …</p>}
      {second.uAssumed && <p class="note">The gauge’s uncertainty is not stated; ± 10 % is taken, common practice.</p>}
      {gauge.calibrated === undefined && (
        <p class="note">When this gauge was last calibrated is not stated: its scale may be off as a whole.</p>
      )}
      {second.outside.length > 0 && (
        <p class="note caution">
          Beyond the chart and left out:{' '}
          {second.outside.map((one) => `spoke ${one.spoke} (${one.value}; chart ${one.chart})`).join(', ')}.
        </p>
      )}
      {second.withoutChart.map((side) => (
        <p key={side} class="note caution">
          The {side} side has no chart, so its readings are no tensions.
        </p>
      ))}
      {second.chartProblems.map((one) => (
        <p key={`${one.side} ${one.row} ${one.reason}`} class="note caution">
          Chart, {one.side}: {tableProblemText(one.row, one.reason, one.detail)}
        </p>
      ))}
      {comparison.tooFew.map((side) => (
        <p key={side}>The {side} side has fewer than three spokes with both readings: too few to compare.</p>
      ))}
      <div class="sides">
        {comparison.sides.map((one) => (
          <SideAgreement key={one.side} comparison={one} unit={unit} />
        ))}
      </div>
      <h2>Repeatability</h2>
      <EarRepeats wheel={wheel} round={round} unit={unit} />
      <Repeats method={gauge.name} rounds={second.rounds} unit={unit} />
      <CrossCalibrated wheel={wheel} round={round} sides={sides} second={second.readings} unit={unit} />
      <h2>Spoke by spoke</h2>
      <PairTable ear={ear} second={second.readings} sides={sides} unit={unit} />
    </section>
  );
}
