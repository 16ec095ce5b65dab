import { useMemo, useState } from 'preact/hooks';
import type { Gauge, GaugeReading } from '../../../spokes/gauge.ts';
import { walkOrder } from '../../../spokes/walkOrder.ts';
import type { Round, Side } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { useActions, useStore } from '../../store/useStore.ts';
import { GaugeState } from './GaugeState.tsx';
import { PadEntry } from './PadEntry.tsx';
import { PasteEntry } from './PasteEntry.tsx';

interface Props {
  readonly round: Round;
  readonly sides: readonly Side[];
  readonly gauge: Gauge;
  readonly onSave: (gauge: Gauge) => void;
}

/** Readings go in spoke by spoke or as a table; what is entered is kept at once. */
export function GaugeEntry({ round, sides, gauge, onSave }: Props) {
  const actions = useActions();
  const person = useStore((state) => state.preferences.person);
  const [how, setHow] = useState<'pad' | 'paste'>('pad');
  const [asked, setAsked] = useState(false);
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
    <>
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
            sides={sides}
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
            {asked ? (
              <>
                <button
                  type="button"
                  class="button"
                  onClick={() => {
                    setAsked(false);
                    onSave({ ...gauge, rounds: gauge.rounds.slice(0, -1) });
                  }}
                >
                  Delete its last round
                </button>
                <button type="button" class="button" onClick={() => setAsked(false)}>
                  Keep it
                </button>
              </>
            ) : (
              <button type="button" class="button" onClick={() => setAsked(true)}>
                Delete its last round …
              </button>
            )}
          </div>
        )}
      </details>
      {last !== undefined && (
        <GaugeState
          key={`state ${last.id}`}
          state={last.state}
          onChange={(state) => onSave({ ...gauge, rounds: [...gauge.rounds.slice(0, -1), { ...last, state }] })}
        />
      )}
    </>
  );
}
