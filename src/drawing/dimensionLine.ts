import { arrowHead, group, line, type Point, text } from './shapes.ts';
import type { SvgNode } from './svg.ts';

/**
 * A horizontal dimension as on an engineering drawing: two extension lines, a thin line with an arrow head at each end, the figure above it.
 * Where the figure does not fit between the arrows it stands beside them, as drawing practice has it.
 * @param fromX @param toX ends of what is measured, drawing units, in either order
 * @param objectY where the extension lines start
 * @param lineY where the dimension line lies
 * @param beside where a figure stands that does not fit
 * @source ISO 129-1, presentation of dimensions
 */
export function dimensionLine(
  fromX: number,
  toX: number,
  objectY: number,
  lineY: number,
  label: string,
  size = 13,
  beside: 'left' | 'right' = 'right',
): SvgNode {
  const [left, right] = fromX <= toX ? [fromX, toX] : [toX, fromX];
  const away = Math.sign(lineY - objectY) || 1;
  const a: Point = { x: left, y: lineY };
  const b: Point = { x: right, y: lineY };
  const width = label.length * size * 0.56;
  const fits = right - left > width + 8;
  const tight = right - left < 20;
  const clear = tight ? 15 : 5;
  // No letter reaches down to the line.
  const above = Math.max(4, size * 0.26);
  return group(
    'dimension',
    line({ x: left, y: objectY + 3 * away }, { x: left, y: lineY + 4 * away }, 'thin'),
    line({ x: right, y: objectY + 3 * away }, { x: right, y: lineY + 4 * away }, 'thin'),
    tight ? line({ x: left - 12, y: lineY }, { x: right + 12, y: lineY }, 'thin') : line(a, b, 'thin'),
    tight ? arrowHead({ x: left - 12, y: lineY }, a) : arrowHead(b, a),
    tight ? arrowHead({ x: right + 12, y: lineY }, b) : arrowHead(a, b),
    fits
      ? text({ x: (left + right) / 2, y: lineY - above }, label, 'letter', 'middle', size)
      : beside === 'right'
        ? text({ x: right + clear, y: lineY + size / 3 }, label, 'letter', 'start', size)
        : text({ x: left - clear, y: lineY + size / 3 }, label, 'letter', 'end', size),
  );
}
