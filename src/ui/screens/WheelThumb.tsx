import { pictureWheel } from '../../drawing/pictureWheel.ts';
import { wheelDrawing } from '../../drawing/wheelDrawing.ts';
import { expandLayout } from '../../spokes/expandLayout.ts';
import type { Wheel } from '../../spokes/wheel.ts';
import { Drawing } from '../parts/Drawing.tsx';

/** The wheel as it is laced, small; its name stands beside it. */
export function WheelThumb({ wheel }: { readonly wheel: Wheel }) {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) return <span />;
  return (
    <span aria-hidden="true">
      <Drawing
        tree={wheelDrawing(
          pictureWheel(laid.spokes, () => 'waiting'),
          { label: wheel.name },
        )}
      />
    </span>
  );
}
