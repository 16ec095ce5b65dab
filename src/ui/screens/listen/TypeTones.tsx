import { useState } from 'preact/hooks';
import { Field } from '../../parts/Field.tsx';
import { useActions } from '../../store/useStore.ts';
import { readTones, TONES_WANTED } from './readTones.ts';

/** Tones read off another instrument, credited to the spoke like a pluck. */
export function TypeTones({ spoke }: { readonly spoke: number }) {
  const actions = useActions();
  const [raw, setRaw] = useState('');
  const read = readTones(raw);
  return (
    <>
      <Field
        label={`Tones of spoke ${spoke}, in hertz`}
        value={raw}
        kind="text"
        onInput={setRaw}
        wrong={raw.trim() === '' || read !== undefined ? undefined : TONES_WANTED}
        effect="Read off a tuner or another program, lowest first. It counts as a pluck."
      />
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={read === undefined}
          onClick={() => {
            if (read === undefined) return;
            actions.typeTones(spoke, read);
            setRaw('');
          }}
        >
          Take these tones
        </button>
      </div>
    </>
  );
}
