import { useEffect, useRef, useState } from 'preact/hooks';
import type { Wheel } from '../../../spokes/wheel.ts';
import { Field } from '../../parts/Field.tsx';
import { lazyScreen } from '../../parts/lazyScreen.tsx';
import type { LiveRound } from '../../store/appState.ts';
import { useActions } from '../../store/useStore.ts';
import { TypeTones } from './TypeTones.tsx';

const SpectrumView = lazyScreen(() => import('./SpectrumView.tsx'));

interface Props {
  readonly wheel: Wheel;
  readonly live: LiveRound;
  readonly onClose: () => void;
}

/** What is needed now and then: jump, mend a slipped place, see the tones, end the round. */
export function MorePanel({ wheel, live, onClose }: Props) {
  const actions = useActions();
  const panel = useRef<HTMLElement>(null);
  // The tap is answered first, and the spectrum, the dearest part, follows.
  const [opened, setOpened] = useState(false);
  useEffect(() => {
    // It opens below the wheel, where a phone does not show it yet.
    panel.current?.scrollIntoView({ block: 'start' });
    panel.current?.focus({ preventScroll: true });
    setOpened(true);
  }, []);
  // Until they are typed in, both go on with the round.
  const [typedTo, setTo] = useState<string>();
  const [typedAfter, setAfter] = useState<string>();
  const to = typedTo ?? String(live.spoke);
  const after = typedAfter ?? String(Math.max(1, live.spoke - 1));
  const [moved, setMoved] = useState('');
  const spokeOf = (raw: string): number | undefined => {
    const number = Number(raw.trim());
    return Number.isInteger(number) && number >= 1 && number <= live.spokeCount ? number : undefined;
  };
  const wrong = (raw: string) =>
    spokeOf(raw) === undefined ? `A spoke from 1 to ${live.spokeCount} is needed.` : undefined;
  const jump = () => {
    const spoke = spokeOf(to);
    if (spoke === undefined) return;
    actions.jumpTo(spoke);
    onClose();
  };
  const move = (direction: 'forward' | 'backward') => {
    const spoke = spokeOf(after);
    if (spoke === undefined) return;
    actions.moveAllAfter(spoke, direction);
    setMoved(
      `Moved: what was heard after spoke ${spoke} now stands one place ${direction === 'forward' ? 'forward' : 'back'}.`,
    );
  };
  return (
    <section ref={panel} class="note comes-into-sight" aria-label="More" tabIndex={-1}>
      <Field
        label="Jump to spoke"
        kind="whole"
        value={to}
        wrong={wrong(to)}
        onInput={setTo}
        effect="Or tap it on the wheel."
      />
      <div class="row">
        <button type="button" class="button" disabled={spokeOf(to) === undefined} onClick={jump}>
          Jump
        </button>
      </div>
      <h3>If a place was slipped</h3>
      <Field
        label="Move every reading after spoke"
        kind="whole"
        value={after}
        wrong={wrong(after)}
        onInput={setAfter}
        effect="Forward where a spoke was passed over, back where one was plucked twice."
      />
      <div class="row">
        <button type="button" class="button" disabled={spokeOf(after) === undefined} onClick={() => move('backward')}>
          One place back
        </button>
        <button type="button" class="button" disabled={spokeOf(after) === undefined} onClick={() => move('forward')}>
          One place forward
        </button>
      </div>
      <p role="status">{moved !== '' && `${moved} The round goes on at spoke ${live.spoke}.`}</p>
      <h3>The last pluck</h3>
      {opened && <SpectrumView wheel={wheel} live={live} />}
      <h3>By another instrument</h3>
      <TypeTones spoke={live.spoke} />
      <h3>End</h3>
      <div class="row">
        <button
          type="button"
          class="button"
          onClick={() => {
            actions.finishRound();
            actions.stopListening();
            onClose();
          }}
        >
          End the round as it stands
        </button>
        <button type="button" class="button" onClick={onClose}>
          Close
        </button>
      </div>
    </section>
  );
}
