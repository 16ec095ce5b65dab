import '../../styles/evidence.css';
import { useMemo, useState } from 'preact/hooks';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { Gauge } from '../../../spokes/gauge.ts';
import type { Round, Side, Wheel } from '../../../spokes/wheel.ts';
import { routeHref } from '../../parts/route.ts';
import { SelectField } from '../../parts/SelectField.tsx';
import { useActions } from '../../store/useStore.ts';
import { ComparisonResult } from './ComparisonResult.tsx';
import { GaugeEntry } from './GaugeEntry.tsx';
import { GaugeSetup } from './GaugeSetup.tsx';
import { roundName } from './roundName.ts';

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
        Neither method is exact. Laid side by side, each side of the wheel by itself, they tell how far to believe
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
      <GaugeEntry round={round} sides={sides} gauge={gauge} onSave={save} />
      <ComparisonResult wheel={wheel} round={round} sides={sides} gauge={gauge} />
    </>
  );
}
