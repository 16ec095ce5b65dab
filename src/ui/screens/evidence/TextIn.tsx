import { useId, useRef, useState } from 'preact/hooks';
import { decodeText } from '../../../spokes/decodeText.ts';
import { inMegabytes } from '../../../spokes/fileSize.ts';

interface Props {
  readonly label: string;
  readonly effect: string;
  readonly value: string;
  readonly rows?: number;
  readonly onText: (text: string) => void;
}

/** More than this is no table of a wheel; it is not put into the page, where it would only make it slow. */
const LONGEST = 1_000_000;
/** No character takes more bytes. @source RFC 3629, section 3 */
const BYTES_PER_CHARACTER = 4;

/** A table typed, pasted or loaded from a file of any usual encoding. */
export function TextIn({ label, effect, value, rows = 6, onText }: Props) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [wrong, setWrong] = useState('');
  const take = (text: string) => {
    if (text.length > LONGEST) {
      setWrong(
        `This is ${(text.length / 1e6).toFixed(1)} million characters, more than any wheel’s table. What was here is unchanged.`,
      );
      return;
    }
    setWrong('');
    onText(text);
  };
  const load = async (file: File | undefined) => {
    if (file !== undefined && file.size > BYTES_PER_CHARACTER * LONGEST)
      setWrong(
        `${file.name} has ${inMegabytes(file.size)}, more than any wheel’s table. What was here is unchanged. Load the table alone.`,
      );
    else if (file !== undefined) {
      try {
        const decoded = decodeText(new Uint8Array(await file.arrayBuffer()));
        if (decoded.ok) take(decoded.text);
        else setWrong(`${file.name} is no text file. What was here is unchanged.`);
      } catch {
        setWrong(`${file.name} could not be opened. What was here is unchanged.`);
      }
    }
    if (input.current) input.current.value = '';
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <textarea
        id={id}
        rows={rows}
        spellcheck={false}
        autoComplete="off"
        value={value}
        aria-describedby={`${id}-effect`}
        onPaste={(event) => {
          const pasted = event.clipboardData?.getData('text') ?? '';
          if (pasted.length <= LONGEST) return;
          event.preventDefault();
          take(pasted);
        }}
        onInput={(event) => take(event.currentTarget.value)}
      />
      {wrong !== '' && (
        <p class="wrong" role="alert">
          {wrong}
        </p>
      )}
      <p class="effect" id={`${id}-effect`}>
        {effect}
      </p>
      <button type="button" class="button" onClick={() => input.current?.click()}>
        Load a text or CSV file
      </button>
      <input
        ref={input}
        type="file"
        hidden
        accept=".csv,.txt,.tsv,text/csv,text/plain"
        aria-label={`${label}: file`}
        onChange={(event) => void load(event.currentTarget.files?.[0])}
      />
    </div>
  );
}
