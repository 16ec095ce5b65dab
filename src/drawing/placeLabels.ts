interface Point {
  readonly x: number;
  readonly y: number;
}
export interface PlacedLabel {
  /** Middle of the text, on its baseline. */
  readonly at: Point;
  /** It stands so far off that a line must lead to its point. */
  readonly led: boolean;
}

const RADII = [11, 20, 30, 42, 56];
const ANGLES = [-45, 45, -135, 135, -90, 90, 0, 180, -20, 20, -160, 160, -70, 70, -110, 110];
const NEAR = 14;
/** Left free between a number and whatever it stands beside, so that strokes do not touch. */
const CLEAR = 1.5;
/** Width of a digit over its height. */
const DIGIT = 0.62;

/**
 * Places numbers beside crowded points so that none covers another or a point: each takes the nearest free place about its own.
 *
 * @param frame Within which labels must lie.
 * @param size Height of the letters.
 * @returns In the order of the points; undefined where no place is free.
 */
export function placeLabels(
  points: readonly (Point & { readonly text: string })[],
  frame: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number },
  size: number,
  radius: number,
): readonly (PlacedLabel | undefined)[] {
  const taken: { x0: number; x1: number; y0: number; y1: number }[] = points.map(({ x, y }) => ({
    x0: x - radius - CLEAR,
    x1: x + radius + CLEAR,
    y0: y - radius - CLEAR,
    y1: y + radius + CLEAR,
  }));
  return points.map(({ x, y, text }) => {
    const half = (text.length * size * DIGIT) / 2;
    for (const away of RADII)
      for (const angle of ANGLES) {
        const cx = x + (away + half / 2) * Math.cos((angle * Math.PI) / 180);
        const cy = y + away * Math.sin((angle * Math.PI) / 180);
        const box = { x0: cx - half, x1: cx + half, y0: cy - size * 0.4, y1: cy + size * 0.4 };
        const inside = box.x0 >= frame.left && box.x1 <= frame.right && box.y0 >= frame.top && box.y1 <= frame.bottom;
        const free = taken.every((one) => box.x1 < one.x0 || box.x0 > one.x1 || box.y1 < one.y0 || box.y0 > one.y1);
        if (!inside || !free) continue;
        taken.push(box);
        return { at: { x: cx, y: cy + size * 0.36 }, led: away > NEAR };
      }
    return undefined;
  });
}
