import { TENSION_UNITS } from '../../units.ts';
import { Choices } from '../parts/Choices.tsx';
import { Field } from '../parts/Field.tsx';
import type { Preferences } from '../store/preferences.ts';
import { useActions, useStore } from '../store/useStore.ts';

const ON_OFF = [
  { value: 'on', label: 'on' },
  { value: 'off', label: 'off' },
] as const;

/** Everything chosen once, for every wheel. */
export default function Settings() {
  const actions = useActions();
  const preferences = useStore((state) => state.preferences);
  const set = actions.setPreference;
  const onOff = (key: 'sound' | 'vibration' | 'speech' | 'keepRecordings', legend: string, effect: string) => (
    <Choices
      legend={legend}
      value={preferences[key] ? 'on' : 'off'}
      options={ON_OFF}
      onChange={(value) => set(key, value === 'on')}
    >
      {effect}
    </Choices>
  );
  return (
    <main>
      <h2>Units</h2>
      <Choices
        legend="Tension"
        value={preferences.tensionUnit}
        options={TENSION_UNITS.map((value) => ({ value, label: value }))}
        onChange={(value) => set('tensionUnit', value)}
      >
        Changes every tension in the app at once. 1 kgf is 9.80665 N.
      </Choices>
      <Choices
        legend="Length"
        value={preferences.lengthUnit}
        options={[
          { value: 'mm', label: 'millimetres' },
          { value: 'in', label: 'inches' },
        ]}
        onChange={(value) => set('lengthUnit', value)}
      />
      <h2>Look</h2>
      <Choices
        legend="Theme"
        value={preferences.theme}
        options={(['system', 'light', 'dark', 'sunlight'] as const).map((value) => ({ value, label: value }))}
        onChange={(value) => set('theme', value)}
      >
        Sunlight is black on white with thick strokes.
      </Choices>
      <Choices<Preferences['hand']>
        legend="Hand that plucks"
        value={preferences.hand}
        options={[
          { value: 'right', label: 'right' },
          { value: 'left', label: 'left' },
        ]}
        onChange={(value) => set('hand', value)}
      >
        Mirrors the drawing of how to pluck and the row of buttons on Listen.
      </Choices>
      <h2>While a wheel is heard</h2>
      <Choices
        legend="Plucks that must agree"
        value={String(preferences.plucksToSettle)}
        options={['1', '2', '3', '4'].map((value) => ({ value, label: value }))}
        onChange={(value) => set('plucksToSettle', Number(value))}
      >
        Two catch a wrong pluck; one is faster and trusts every pluck.
      </Choices>
      <Choices<Preferences['order']>
        legend="Order round the wheel"
        value={preferences.order}
        options={[
          { value: 'byPlace', label: 'place by place' },
          { value: 'leftThenRight', label: 'left side, then right' },
          { value: 'rightThenLeft', label: 'right side, then left' },
          { value: 'free', label: 'free: tap the spoke' },
        ]}
        onChange={(value) => set('order', value)}
      >
        Place by place alternates the sides with the usual lacing; on a dished wheel a slip then shows at once.
      </Choices>
      {onOff(
        'sound',
        'Sounds',
        'A short sign for each settled spoke and for a pluck that was not taken. The app does not listen while it sounds.',
      )}
      {onOff('vibration', 'Vibration', 'Where the phone can.')}
      {onOff('speech', 'Spoken feedback', 'Says each settled spoke and the next place, so that you need not look.')}
      <h2>Recordings</h2>
      {onOff(
        'keepRecordings',
        'Keep a recording of each pluck',
        'Stays on this device, until you export or delete it. Needed to analyse a round again later.',
      )}
      <Recordings />
      <h2>Name on rounds and reports</h2>
      <Field
        label="Name"
        kind="text"
        value={preferences.person}
        onInput={(raw) => set('person', raw)}
        effect="Optional. Saved on this device only."
      />
      <h2>Privacy</h2>
      <p>
        Sound never leaves this device. There is no account, no tracking and nothing is sent; files go only where you
        send them.
      </p>
    </main>
  );
}

function Recordings() {
  const actions = useActions();
  const recordings = useStore((state) => state.files.recordings);
  const storage = useStore((state) => state.files.storage);
  return (
    <>
      <p>
        {recordings.count} {recordings.count === 1 ? 'recording' : 'recordings'}, {size(recordings.bytes)}.
        {storage !== undefined && ` Ringtrue uses ${size(storage.usedBytes)} of ${size(storage.quotaBytes)}.`}
      </p>
      <button
        type="button"
        class="button"
        disabled={recordings.count === 0}
        onClick={() => void actions.deleteRecordings()}
      >
        Delete all recordings
      </button>
    </>
  );
}

const size = (bytes: number): string =>
  bytes < 1e9 ? `${(bytes / 1e6).toFixed(1)} MB` : `${(bytes / 1e9).toFixed(1)} GB`;
