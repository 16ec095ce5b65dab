import { useState } from 'preact/hooks';
import { type Hertz, hertz } from '../../../units.ts';
import { Field } from '../../parts/Field.tsx';
import { useActions } from '../../store/useStore.ts';
import { parseDecimal } from '../describe/parseDecimal.ts';

/** No spoke rings outside these. `common practice` */
const LOWEST_HZ = 50;
const HIGHEST_HZ = 8000;

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
        wrong={
          raw.trim() === '' || read !== undefined
            ? undefined
            : `Frequencies from ${LOWEST_HZ} to ${HIGHEST_HZ}, set apart by spaces or semicolons.`
        }
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

/** @returns ascending, or undefined where one of them is no tone of a spoke */
export function readTones(raw: string): readonly Hertz[] | undefined {
  const parts = raw.split(/[;\s]+/).filter((part) => part !== '');
  const tones = parts.map(parseDecimal);
  if (tones.length === 0 || tones.some((tone) => tone === undefined || tone < LOWEST_HZ || tone > HIGHEST_HZ))
    return undefined;
  return tones.map((tone) => hertz(tone ?? 0)).toSorted((a, b) => a - b);
}
