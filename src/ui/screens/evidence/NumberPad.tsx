interface Props {
  readonly onKey: (key: string) => void;
  readonly onDelete: () => void;
}

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '.', '0'];

/** Large keys for a greasy thumb; the phone's own keyboard serves as well. */
export function NumberPad({ onKey, onDelete }: Props) {
  return (
    <fieldset class="number-pad">
      <legend class="unseen">Number pad</legend>
      {KEYS.map((key) => (
        <button key={key} type="button" class="button" onClick={() => onKey(key)}>
          {key}
        </button>
      ))}
      <button type="button" class="button" aria-label="Delete the last digit" onClick={onDelete}>
        ⌫
      </button>
    </fieldset>
  );
}
