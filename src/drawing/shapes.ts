import { element, type SvgNode } from './svg.ts';

/** A point on the sheet, in drawing units, y downwards. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

const round = (value: number): string => String(Math.round(value * 100) / 100);

/** The outermost node of a drawing: its size in drawing units and the sentence that says what it shows. */
export const sheet = (
  width: number,
  height: number,
  label: string,
  ...children: Parameters<typeof element>[2][]
): SvgNode =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${round(width)} ${round(height)}`,
      role: 'img',
      class: 'drawing',
      'aria-label': label,
    },
    ...children,
  );

export const line = (a: Point, b: Point, className: string): SvgNode =>
  element('line', { x1: a.x, y1: a.y, x2: b.x, y2: b.y, class: className });

export const circle = (centre: Point, radius: number, className: string): SvgNode =>
  element('circle', { cx: centre.x, cy: centre.y, r: radius, class: className });

export const rectangle = (x: number, y: number, width: number, height: number, className: string): SvgNode =>
  element('rect', { x, y, width: Math.max(0, width), height: Math.max(0, height), class: className });

export const group = (className: string, ...children: Parameters<typeof element>[2][]): SvgNode =>
  element('g', { class: className }, ...children);

/** Open polyline through the points. */
export const polyline = (points: readonly Point[], className: string): SvgNode =>
  element('polyline', { points: points.map((p) => `${round(p.x)},${round(p.y)}`).join(' '), class: className });

export const polygon = (points: readonly Point[], className: string): SvgNode =>
  element('polygon', { points: points.map((p) => `${round(p.x)},${round(p.y)}`).join(' '), class: className });

export const path = (d: string, className: string): SvgNode => element('path', { d, class: className });

/** Lettering. `anchor` as in SVG: start, middle, end. */
export const text = (
  at: Point,
  content: string,
  className = 'letter',
  anchor: 'start' | 'middle' | 'end' = 'start',
  size = 14,
): SvgNode =>
  element('text', { x: at.x, y: at.y, class: className, 'text-anchor': anchor, 'font-size': size }, content);

/** Point at a distance and an angle: 0 upwards, clockwise positive, as angles at the rim are counted. */
export const atAngle = (centre: Point, radius: number, angleRad: number): Point => ({
  x: centre.x + radius * Math.sin(angleRad),
  y: centre.y - radius * Math.cos(angleRad),
});

/** Arc of a circle from one rim angle to another, clockwise. */
export function arc(centre: Point, radius: number, fromRad: number, toRad: number, className: string): SvgNode {
  const a = atAngle(centre, radius, fromRad);
  const b = atAngle(centre, radius, toRad);
  const large = Math.abs(toRad - fromRad) > Math.PI ? 1 : 0;
  const sweep = toRad > fromRad ? 1 : 0;
  const r = round(radius);
  return path(`M${round(a.x)} ${round(a.y)}A${r} ${r} 0 ${large} ${sweep} ${round(b.x)} ${round(b.y)}`, className);
}

/** Solid arrow head with its tip at `tip`, pointing along the direction from `from`. Slender, as on an engineering drawing. */
export function arrowHead(from: Point, tip: Point, className = 'arrow', length = 9): SvgNode {
  const d = Math.hypot(tip.x - from.x, tip.y - from.y) || 1;
  const ux = (tip.x - from.x) / d;
  const uy = (tip.y - from.y) / d;
  const back = { x: tip.x - ux * length, y: tip.y - uy * length };
  const half = length / 3.4;
  return polygon(
    [tip, { x: back.x - uy * half, y: back.y + ux * half }, { x: back.x + uy * half, y: back.y - ux * half }],
    className,
  );
}
