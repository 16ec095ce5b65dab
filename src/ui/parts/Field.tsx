import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface Props {
  readonly label: string;
  /** Exactly as typed. */
  readonly value: string;
  readonly onInput: (raw: string) => void;
  /** Beside the field. */
  readonly unit?: string;
  /** What it does to the answer. */
  readonly effect?: ComponentChildren;
  /** What is wrong and what would be right. */
  readonly wrong?: string | undefined;
  readonly kind?: 'number' | 'whole' | 'text';
  readonly placeholder?: string;
}

/** One thing to type. What was typed stays as it is; a figure is read from it elsewhere. */
export function Field({ label, value, onInput, unit, effect, wrong, kind = 'number', placeholder }: Props) {
  const id = useId();
  const described = [effect !== undefined && `${id}-effect`, wrong !== undefined && `${id}-wrong`]
    .filter(Boolean)
    .join(' ');
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="entry">
        <input
          id={id}
          type="text"
          inputMode={kind === 'text' ? 'text' : kind === 'whole' ? 'numeric' : 'decimal'}
          autoComplete="off"
          autoCapitalize={kind === 'text' ? 'sentences' : 'off'}
          spellcheck={false}
          value={value}
          placeholder={placeholder}
          aria-invalid={wrong !== undefined}
          aria-describedby={described === '' ? undefined : described}
          onInput={(event) => onInput(event.currentTarget.value)}
        />
        {unit !== undefined && <span class="unit">{unit}</span>}
      </div>
      {wrong !== undefined && (
        <p class="wrong" id={`${id}-wrong`}>
          {wrong}
        </p>
      )}
      {effect !== undefined && (
        <p class="effect" id={`${id}-effect`}>
          {effect}
        </p>
      )}
    </div>
  );
}
