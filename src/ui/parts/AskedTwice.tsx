import { useState } from 'preact/hooks';

interface Props {
  readonly label: string;
  /** Says all that is lost. */
  readonly sure: string;
  readonly onSure: () => void;
}

/** What cannot be taken back needs a second tap, beside a way out. */
export function AskedTwice({ label, sure, onSure }: Props) {
  const [asked, setAsked] = useState(false);
  if (!asked)
    return (
      <button type="button" class="button grow" onClick={() => setAsked(true)}>
        {label} …
      </button>
    );
  return (
    <>
      <button
        type="button"
        class="button grow"
        onClick={() => {
          setAsked(false);
          onSure();
        }}
      >
        {sure}
      </button>
      <button type="button" class="button grow" onClick={() => setAsked(false)}>
        Keep it
      </button>
    </>
  );
}
