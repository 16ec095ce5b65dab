import { useState } from 'preact/hooks';
import type { Wheel } from '../../spokes/wheel.ts';
import { useKeptFocus } from '../parts/useKeptFocus.ts';
import { goTo, replaceWith } from '../parts/useRoute.ts';
import { useActions, useStore } from '../store/useStore.ts';
import { DescribeSheet } from './describe/DescribeSheet.tsx';
import { EVENNESS_START, STARTING_WHEELS, type StartingWheel } from './describe/startingWheels.ts';

const FORM = 'new wheel';
const START = 'new wheel start';

/** What to start from, then the description itself. Nothing is on the shelf before it is saved. */
export default function NewWheel() {
  const actions = useActions();
  const kept = useStore((state) => state.wheels.drafts[START]);
  const wheels = useStore((state) => state.wheels.list);
  const [from, setFrom] = useState<Wheel | undefined>(
    kept?.wheel === undefined ? undefined : (JSON.parse(kept.wheel) as Wheel),
  );
  useKeptFocus(from?.id, () => document.querySelector('.starting-from button, main h2'));
  const begin = (start: StartingWheel) => {
    const wheel = start.make(actions.newId(), actions.now());
    actions.clearDraft(FORM);
    actions.setDraft(START, { wheel: JSON.stringify(wheel) });
    setFrom(wheel);
    scrollTo(0, 0);
  };
  const leave = () => {
    actions.clearDraft(FORM);
    actions.clearDraft(START);
    setFrom(undefined);
  };
  if (from !== undefined)
    return (
      <>
        <nav class="starting-from no-print" aria-label="Start">
          <button type="button" class="button" onClick={leave}>
            Start from another wheel
          </button>
        </nav>
        <DescribeSheet
          formName={FORM}
          saved={from}
          isNew
          onDone={(wheel, next) => {
            actions.saveWheel(wheel);
            leave();
            replaceWith({ screen: next === 'listen' ? 'listen' : 'describe', wheelId: wheel.id });
          }}
        />
      </>
    );
  const copied = (wheel: Wheel) =>
    goTo({ screen: 'describe', wheelId: actions.copyWheel(wheel.id, `${wheel.name}, copy`) });
  return (
    <main>
      <h2 tabIndex={-1}>What is it most like?</h2>
      <p>Each is generic; you correct its figures next.</p>
      <Starts starts={[...STARTING_WHEELS]} onChoose={begin} />
      <h2>Know only how many spokes?</h2>
      <Starts starts={[EVENNESS_START]} onChoose={begin} />
      {wheels.length > 0 && (
        <>
          <h2>Same as one you have</h2>
          <div class="starts">
            {wheels.map((wheel) => (
              <button key={wheel.id} type="button" class="start" onClick={() => copied(wheel)}>
                <span class="name">{wheel.name}</span>
                copy its description
              </button>
            ))}
          </div>
        </>
      )}
    </main>
  );
}

function Starts({
  starts,
  onChoose,
}: {
  readonly starts: readonly StartingWheel[];
  readonly onChoose: (start: StartingWheel) => void;
}) {
  return (
    <div class="starts">
      {starts.map((start) => (
        <button key={start.id} type="button" class="start" onClick={() => onChoose(start)}>
          <span class="name">{start.name}</span>
          {start.gist}
        </button>
      ))}
    </div>
  );
}
