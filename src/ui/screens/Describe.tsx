import type { Wheel } from '../../spokes/wheel.ts';
import { AskedTwice } from '../parts/AskedTwice.tsx';
import { goTo } from '../parts/useRoute.ts';
import { useActions } from '../store/useStore.ts';
import { CalibrationPart } from './describe/CalibrationPart.tsx';
import { DescribeSheet } from './describe/DescribeSheet.tsx';

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
        actions.saveWheel(next);
        actions.clearDraft(form);
        if (where === 'listen') goTo({ screen: 'listen', wheelId: wheel.id });
      }}
    >
      <CalibrationPart wheel={wheel} />
      <section class="wheel-files no-print" aria-label="This wheel’s file">
        <div class="row">
          <button type="button" class="button grow" onClick={() => void actions.exportWheel(wheel.id)}>
            Export this wheel
          </button>
          <AskedTwice
            label="Delete this wheel"
            sure={deletes(wheel)}
            onSure={() => {
              actions.deleteWheel(wheel.id);
              goTo({ screen: 'wheels' });
            }}
          />
        </div>
      </section>
    </DescribeSheet>
  );
}

/** All that goes with a wheel. */
function deletes({ rounds }: Wheel): string {
  if (rounds.length === 0) return 'Delete it';
  return rounds.length === 1 ? 'Delete it with its round' : `Delete it with its ${rounds.length} rounds`;
}
