import { useMemo } from 'preact/hooks';
import { pictureWheel } from '../../drawing/pictureWheel.ts';
import { wheelDrawing } from '../../drawing/wheelDrawing.ts';
import { expandLayout } from '../../spokes/expandLayout.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import { Drawing } from '../parts/Drawing.tsx';

/** The wheel as it is laced, small; its name stands beside it. */
export function WheelThumb({ wheel }: { readonly wheel: Wheel }) {
  // The same picture as long as layout and name are: every pluck makes another wheel of this one.
  return useMemo(() => {
    const laid = expandLayout(wheel.layout);
    if (!laid.ok) return <span />;
    const tree = wheelDrawing(
      pictureWheel(laid.spokes, () => 'waiting'),
      { label: wheel.name, letterSize: 0 },
    );
    return (
      <span aria-hidden="true">
        <Drawing tree={tree} />
      </span>
    );
  }, [wheel.layout, wheel.name]);
}
