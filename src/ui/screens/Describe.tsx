import { useState } from 'preact/hooks';
import type { Wheel } from '../../spokes/wheel.ts';
import { goTo } from '../parts/useRoute.ts';
import { useActions } from '../store/useStore.ts';
import { DescribeSheet } from './describe/DescribeSheet.tsx';
import { KnownTensions } from './describe/KnownTensions.tsx';

/** The description of a wheel that is on the shelf. */
export default function Describe({ wheel }: { readonly wheel: Wheel }) {
  const actions = useActions();
  const form = `wheel ${wheel.id}`;
  return (
    <DescribeSheet
      key={wheel.id}
      formName={form}
      saved={wheel}
      isNew={false}
      onDone={(next, where) => {
        actions.saveWheel({ ...next, rounds: wheel.rounds, calibrations: wheel.calibrations });
        actions.clearDraft(form);
        if (where === 'listen') goTo({ screen: 'listen', wheelId: wheel.id });
      }}
    >
      <KnownTensions wheel={wheel} />
      <WheelFiles wheel={wheel} />
    </DescribeSheet>
  );
}

function WheelFiles({ wheel }: { readonly wheel: Wheel }) {
  const actions = useActions();
  const [asked, setAsked] = useState(false);
  return (
    <section class="wheel-files no-print" aria-label="This wheel’s file">
      <div class="row">
        <button type="button" class="button grow" onClick={() => void actions.exportWheel(wheel.id)}>
          Export this wheel
        </button>
        {asked ? (
          <>
            <button
              type="button"
              class="button grow"
              onClick={() => {
                actions.deleteWheel(wheel.id);
                goTo({ screen: 'wheels' });
              }}
            >
              Delete it with {wheel.rounds.length === 1 ? 'its round' : `its ${wheel.rounds.length} rounds`}
            </button>
            <button type="button" class="button grow" onClick={() => setAsked(false)}>
              Keep it
            </button>
          </>
        ) : (
          <button type="button" class="button grow" onClick={() => setAsked(true)}>
            Delete this wheel …
          </button>
        )}
      </div>
    </section>
  );
}
