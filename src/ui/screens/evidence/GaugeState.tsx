import { useState } from 'preact/hooks';
import { parseAlone } from '../../../spokes/parseFigure.ts';
import type { WheelState } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import { stateText } from './report/ReportHead.tsx';

interface Props {
  readonly state: WheelState;
  readonly onChange: (state: WheelState) => void;
}

const shown = (value: number | undefined): string => (value === undefined ? '' : `${value}`);

/** How the wheel stands while the gauge is on it: its readings hold for that state alone. */
export function GaugeState({ state, onChange }: Props) {
  const [pressure, setPressure] = useState(shown(state.pressureBar));
  const [temperature, setTemperature] = useState(shown(state.temperatureC));
  const put = (tyre: WheelState['tyre'], bar: string, celsius: string) => {
    const pressureBar = tyre === 'on' ? parseAlone(bar) : undefined;
    const temperatureC = parseAlone(celsius);
    onChange({
      tyre,
      ...(pressureBar === undefined || pressureBar < 0 ? {} : { pressureBar }),
      ...(temperatureC === undefined ? {} : { temperatureC }),
    });
  };
  const wrong = (raw: string, least: number) =>
    raw.trim() !== '' && !((parseAlone(raw) ?? Number.NaN) >= least) ? 'A figure, with one comma or point.' : undefined;
  return (
    <details class="part">
      <summary>
        State of the wheel <span class="gist">{stateText(state)}</span>
      </summary>
      <Choices<WheelState['tyre']>
        legend="Tyre while the gauge was read"
        value={state.tyre}
        options={[
          { value: 'off', label: 'off, or flat' },
          { value: 'on', label: 'on, inflated' },
          { value: 'unknown', label: 'not known' },
        ]}
        onChange={(tyre) => put(tyre, pressure, temperature)}
      >
        Taken from the round by ear. If the wheel stood otherwise, its tensions were others too.
      </Choices>
      {state.tyre === 'on' && (
        <Field
          label="Pressure"
          unit="bar"
          value={pressure}
          wrong={wrong(pressure, 0)}
          onInput={(raw) => {
            setPressure(raw);
            put(state.tyre, raw, temperature);
          }}
        />
      )}
      <Field
        label="Temperature"
        unit="°C"
        value={temperature}
        wrong={wrong(temperature, -60)}
        onInput={(raw) => {
          setTemperature(raw);
          put(state.tyre, pressure, raw);
        }}
      />
    </details>
  );
}
