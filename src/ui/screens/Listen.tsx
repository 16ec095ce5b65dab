import { useMemo, useState } from 'preact/hooks';
import { expandLayout } from '../../spokes/expandLayout.ts';
import type { LaidSpoke } from '../../spokes/laidSpoke.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import { routeHref } from '../parts/route.ts';
import { useKeptFocus } from '../parts/useKeptFocus.ts';
import { useActions, useStore } from '../store/useStore.ts';
import type { DemoPlay } from './listen/isDemo.ts';
import { RoundView } from './listen/RoundView.tsx';
import { StartPanel } from './listen/StartPanel.tsx';

/** The round: before it starts, how to pluck; then the wheel, the spoke to pluck, and the answer. */
export default function Listen({ wheel }: { readonly wheel: Wheel }) {
  const actions = useActions();
  const [demo, setDemo] = useState<DemoPlay>('aloud');
  const playDemo = (how: DemoPlay) => {
    setDemo(how);
    return actions.listenToDemo(how === 'aloud' ? { aloud: true, speed: 'real' } : { aloud: false, speed: 'fast' });
  };
  const laid = useMemo(() => expandLayout(wheel.layout), [wheel.layout]);
  const round = useStore((state) => state.round);
  const hears = useStore(({ listening }) => listening.status === 'on' || listening.status === 'opening');
  useKeptFocus(`${round?.phase} ${hears}`, () => document.querySelector('main .main-action'));
  if (!laid.ok)
    return (
      <main>
        <p class="note caution">
          The wheel’s description does not hold together yet, so there is nothing to listen to.
        </p>
        <a class="button main-action" href={routeHref({ screen: 'describe', wheelId: wheel.id })}>
          Mend the description
        </a>
      </main>
    );
  const spokes: readonly LaidSpoke[] = laid.spokes;
  if (round === undefined || round.wheelId !== wheel.id)
    return <StartPanel wheel={wheel} spokes={spokes} playDemo={playDemo} />;
  return <RoundView key={round.round.id} wheel={wheel} spokes={spokes} live={round} playDemo={() => playDemo(demo)} />;
}
