import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly onChange: (value: string) => void;
  readonly effect?: ComponentChildren;
}

/** One of many. */
export function SelectField({ label, value, options, onChange, effect }: Props) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="entry">
        <select
          id={id}
          value={value}
          aria-describedby={effect === undefined ? undefined : `${id}-effect`}
          onChange={(event) => onChange(event.currentTarget.value)}
        >
          {options.map((option) => (
            <option key={option.value} value={option.value} selected={option.value === value}>
              {option.label}
            </option>
          ))}
        </select>
      </div>
      {effect !== undefined && (
        <p class="effect" id={`${id}-effect`}>
          {effect}
        </p>
      )}
    </div>
  );
}
