import { useMemo } from 'preact/hooks';
import { pictureWheel } from '../../../drawing/pictureWheel.ts';
import type { SpokeMark } from '../../../drawing/stateMark.ts';
import { wheelDrawing } from '../../../drawing/wheelDrawing.ts';
import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';
import { Drawing } from '../../parts/Drawing.tsx';
import { nearestSpoke } from './nearestSpoke.ts';

interface Props {
  readonly spokes: readonly LaidSpoke[];
  readonly current: number | undefined;
  readonly markOf: (spoke: number) => SpokeMark;
  readonly label: string;
  /** Lettering in drawing units: larger where the drawing is small. */
  readonly letterSize?: number;
  /** Number every spoke that is judged other than in order; else the current one alone. */
  readonly numbered: boolean;
  /** A touch means the spoke nearest to it; keys and screen readers use the number field instead. */
  readonly onPick?: (spoke: number) => void;
}

/** The wheel while it is heard: the spoke to pluck thick and flagged, every other with what is known of it. */
export function WheelView({ spokes, current, markOf, label, letterSize = 28, numbered, onPick }: Props) {
  const marks = spokes.map((spoke) => markOf(spoke.number)).join(' ');
  const drawing = useMemo(
    () => (
      <Drawing
        tree={wheelDrawing(pictureWheel(spokes, markOf), {
          label,
          letterSize,
          numberFlagged: numbered,
          ...(current === undefined ? {} : { currentSpoke: current }),
        })}
      />
    ),
    [spokes, marks, current, label, letterSize, numbered],
  );
  const pick = (event: MouseEvent) => {
    const box = (event.currentTarget as HTMLElement).getBoundingClientRect();
    const half = Math.min(box.width, box.height) / 2;
    const spoke = nearestSpoke(
      spokes,
      event.clientX - box.left - box.width / 2,
      event.clientY - box.top - box.height / 2,
      half,
    );
    if (spoke !== undefined) onPick?.(spoke);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the number field under "More" is the same for keys and screen readers
    // biome-ignore lint/a11y/useKeyWithClickEvents: as above
    <div class="wheel-view" onClick={pick}>
      {drawing}
    </div>
  );
}
