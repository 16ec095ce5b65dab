import { useMemo } from 'preact/hooks';
import type { Wheel } from '../../spokes/wheel.ts';
import { routeHref } from '../parts/route.ts';
import { useStore } from '../store/useStore.ts';
import { WheelThumb } from './WheelThumb.tsx';
import { layoutGist, roundsGist } from './wheelGist.ts';

/** All wheels on this device, the most recently changed first. */
export function WheelList({ currentId }: { readonly currentId?: string | undefined }) {
  const wheels = useStore((state) => state.wheels);
  if (wheels.status === 'loading') return <p aria-busy="true">Opening the shelf …</p>;
  if (wheels.list.length === 0) return <p class="soft">No wheel here yet.</p>;
  return (
    <ul class="wheel-list">
      {wheels.list.map((wheel) => (
        <li key={wheel.id}>
          <a
            class="wheel-card"
            href={routeHref({
              screen: wheel.rounds.length > 0 && wheel.rounds.at(-1)?.finishedAt !== undefined ? 'judge' : 'listen',
              wheelId: wheel.id,
            })}
            aria-current={wheel.id === currentId ? 'page' : undefined}
          >
            <WheelThumb wheel={wheel} />
            <span>
              <span class="name">{wheel.name}</span>
              <br />
              {layoutGist(wheel.layout)}
              <br />
              <RoundsGist wheel={wheel} />
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}

function RoundsGist({ wheel }: { readonly wheel: Wheel }) {
  const { heard, day } = useMemo(() => roundsGist(wheel), [wheel.rounds, wheel.layout]);
  return (
    <span class="soft">
      {heard}
      {day !== undefined && (
        <>
          , <span class="unbroken">{day}</span>
        </>
      )}
    </span>
  );
}
