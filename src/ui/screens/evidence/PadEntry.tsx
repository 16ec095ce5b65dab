import { useState } from 'preact/hooks';
import type { GaugeReading } from '../../../spokes/gauge.ts';
import { maybeThousand, parseAlone } from '../../../spokes/parseFigure.ts';
import type { Side } from '../../../spokes/wheel.ts';
import { Field } from '../../parts/Field.tsx';
import { NumberPad } from './NumberPad.tsx';

interface Props {
  /** Places in the order of the round. */
  readonly order: readonly number[];
  readonly sides: readonly Side[];
  readonly unit: string;
  readonly readings: readonly GaugeReading[];
  readonly onChange: (readings: readonly GaugeReading[]) => void;
}

const WRONG = {
  unclear: 'This may be a thousand or a decimal; write thousands without a sign.',
  noFigure: 'A figure above zero, with one comma or point.',
} as const;

/** Spoke after spoke in the round's order; each figure is kept as soon as it is entered. */
export function PadEntry({ order, sides, unit, readings, onChange }: Props) {
  const valuesOf = (spoke: number) => readings.find((one) => one.spoke === spoke)?.values ?? [];
  const [spoke, setSpoke] = useState(order.find((one) => valuesOf(one).length === 0) ?? order[0] ?? 1);
  const [raw, setRaw] = useState('');
  const value = parseAlone(raw);
  // Marks may be read to a thousandth.
  const unclear = unit !== 'marks' && maybeThousand(raw);
  const good = value !== undefined && value > 0 && !unclear;
  const here = valuesOf(spoke);
  const at = order.indexOf(spoke);
  const step = (by: number) => {
    setSpoke(order[(at + by + order.length) % order.length] ?? spoke);
    setRaw('');
  };
  const put = (values: readonly number[]) =>
    onChange(
      [...readings.filter((one) => one.spoke !== spoke), ...(values.length > 0 ? [{ spoke, values }] : [])].toSorted(
        (a, b) => a.spoke - b.spoke,
      ),
    );
  const keep = (go: boolean) => {
    if (raw.trim() !== '' && !good) return;
    if (good) put([...here, value]);
    setRaw('');
    if (go) step(1);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        keep(true);
      }}
    >
      <p class="headline" role="status">
        Spoke {spoke}, {sides[spoke - 1]}
      </p>
      <p class="soft">
        {here.length === 0 ? 'No reading yet.' : `Read: ${here.join(', ')} ${unit}.`} {readings.length} of{' '}
        {order.length} spokes have a reading.
      </p>
      <Field
        label="Reading"
        value={raw}
        unit={unit}
        onInput={setRaw}
        wrong={raw.trim() === '' || good ? undefined : WRONG[unclear ? 'unclear' : 'noFigure']}
      />
      <NumberPad onKey={(key) => setRaw(raw + key)} onDelete={() => setRaw(raw.slice(0, -1))} />
      <div class="row">
        <button type="button" class="button grow" onClick={() => step(-1)}>
          Back
        </button>
        <button type="button" class="button grow" disabled={!good} onClick={() => keep(false)}>
          Keep, same spoke again
        </button>
        <button type="button" class="button grow" disabled={here.length === 0} onClick={() => put(here.slice(0, -1))}>
          Take the last back
        </button>
        <button type="button" class="button grow" onClick={() => step(1)}>
          Skip
        </button>
      </div>
      <button type="submit" class="button main-action" disabled={!good}>
        Keep, next spoke
      </button>
    </form>
  );
}
