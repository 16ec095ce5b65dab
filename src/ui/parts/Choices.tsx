import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface Props<Value extends string> {
  readonly legend: string;
  readonly value: Value;
  readonly options: readonly { readonly value: Value; readonly label: string }[];
  readonly onChange: (value: Value) => void;
  readonly children?: ComponentChildren;
}

/** One of a few, all in sight. Radio buttons underneath, so that arrow keys and screen readers know them. */
export function Choices<Value extends string>({ legend, value, options, onChange, children }: Props<Value>) {
  const name = useId();
  return (
    <fieldset class="field">
      <legend>{legend}</legend>
      <div class="choices">
        {options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            {option.label}
          </label>
        ))}
      </div>
      {children !== undefined && <p class="effect">{children}</p>}
    </fieldset>
  );
}
