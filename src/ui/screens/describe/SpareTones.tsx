import { useEffect } from 'preact/hooks';
import type { SpareSpoke } from '../../../spokes/describeSpare.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import type { Draft } from '../../parts/useDraft.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { HEAR_REASON_TEXT } from '../../text/hearReasonText.ts';
import { pluckSentence } from '../../text/howText.ts';
import { LevelSign } from '../listen/LevelSign.tsx';
import { readTones, TONES_WANTED } from '../listen/readTones.ts';

interface Props {
  readonly wheelId: string;
  readonly draft: Draft;
  /** Absent while it is not described well enough to be heard. */
  readonly spare: SpareSpoke | undefined;
  readonly direction: 'inPlane' | 'across';
}

/** The tones of a loose spoke: heard here, or read off another instrument. */
export function SpareTones({ wheelId, draft, spare, direction }: Props) {
  const actions = useActions();
  const by = draft.get('by', 'heard');
  const raw = draft.get('tones');
  const choose = (next: string) => {
    if (next === 'typed') actions.forgetSpare();
    draft.set('by', next);
  };
  return (
    <>
      <Choices
        legend="Its tones are"
        value={by}
        options={[
          { value: 'heard', label: 'heard here' },
          { value: 'typed', label: 'typed' },
        ]}
        onChange={choose}
      />
      {by === 'typed' ? (
        <Field
          label="Its tones, in hertz"
          kind="text"
          value={raw}
          wrong={raw.trim() === '' || readTones(raw) !== undefined ? undefined : TONES_WANTED}
          onInput={(text) => draft.set('tones', text)}
          effect="Lowest first, as many as you can read off."
        />
      ) : (
        <HearSpare wheelId={wheelId} spare={spare} direction={direction} />
      )}
    </>
  );
}

function HearSpare({ wheelId, spare, direction }: Omit<Props, 'draft'>) {
  const actions = useActions();
  const heard = useStore((state) => (state.spare?.wheelId === wheelId ? state.spare : undefined));
  const status = useStore((state) => state.listening.status);
  const listens = heard !== undefined && (status === 'on' || status === 'opening');
  useEffect(() => actions.stopListening, [actions]);
  const refused = heard?.refused === undefined ? undefined : HEAR_REASON_TEXT[heard.refused];
  return (
    <>
      <p>{pluckSentence({ crossing: 'none', direction })}</p>
      {heard !== undefined && (
        <div role="status">
          <p>
            {heard.settled
              ? `${heard.agreeing.length} plucks agree; lowest tone ${heard.agreeing[0]?.tones[0]?.frequencyHz.toFixed(1) ?? '–'} Hz.`
              : heard.plucks.length === 0
                ? 'Pluck it twice.'
                : heard.plucks.length === heard.agreeing.length
                  ? 'One pluck taken; pluck it once more.'
                  : 'The plucks do not agree yet; pluck it once more.'}
          </p>
          {refused !== undefined && (
            <p>
              <strong>Not taken. {refused.sentence}</strong> {refused.next}
            </p>
          )}
        </div>
      )}
      {listens && <LevelSign />}
      <div class="row">
        {listens ? (
          <button type="button" class="button" onClick={actions.stopListening}>
            Stop listening
          </button>
        ) : (
          <button
            type="button"
            class="button"
            disabled={spare === undefined}
            onClick={() =>
              spare !== undefined && void actions.hearSpare(wheelId, spare, { crossing: 'none', direction })
            }
          >
            {heard === undefined ? 'Hear the spoke' : 'Hear it anew'}
          </button>
        )}
      </div>
      {spare === undefined && <p class="soft">First its length: it tells the ear what to expect.</p>}
    </>
  );
}
