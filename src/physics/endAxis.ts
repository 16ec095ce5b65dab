import type { Spread } from './spreadPrior.ts';

/** Chebyshev points in clampedness c = k/(k + s), and the weights that carry values there to the centres of the prior. */
export interface Axis {
  readonly points: number;
  readonly centres: number;
  place(scale: number): void;
  k(point: number): number;
  weight(centre: number, point: number): number;
}
export const axisOf = (prior: Spread, wanted: number): Axis => {
  const centres = prior.lnK.length;
  const points = Math.min(wanted, centres === 1 ? 1 : wanted);
  const c = new Float64Array(points);
  const weights = new Float64Array(centres * points);
  let scale = 1;
  const place = (s: number): void => {
    scale = s;
    const clamped = prior.lnK.map((lnK) => Math.exp(lnK) / (Math.exp(lnK) + s));
    const low = Math.min(...clamped);
    const high = Math.max(...clamped);
    for (let i = 0; i < points; i++)
      c[i] = points === 1 ? low : (low + high) / 2 - ((high - low) / 2) * Math.cos((Math.PI * (i + 0.5)) / points);
    for (let j = 0; j < centres; j++)
      for (let i = 0; i < points; i++) {
        let w = 1;
        for (let o = 0; o < points; o++)
          if (o !== i) w *= ((clamped[j] as number) - (c[o] as number)) / ((c[i] as number) - (c[o] as number));
        weights[j * points + i] = w;
      }
  };
  return {
    points,
    centres,
    place,
    k: (i) => (scale * (c[i] as number)) / (1 - (c[i] as number)),
    weight: (j, i) => weights[j * points + i] as number,
  };
};

/** Carries values at the Chebyshev points to all nodes, one axis after the other. */
export const spread = (
  values: Float64Array,
  hub: Axis,
  rim: Axis,
  put: (node: number, value: number) => void,
): void => {
  const half = new Float64Array(hub.points * rim.centres);
  for (let i = 0; i < hub.points; i++)
    for (let r = 0; r < rim.centres; r++) {
      let sum = 0;
      for (let j = 0; j < rim.points; j++) sum += rim.weight(r, j) * (values[i * rim.points + j] as number);
      half[i * rim.centres + r] = sum;
    }
  for (let h = 0; h < hub.centres; h++)
    for (let r = 0; r < rim.centres; r++) {
      let sum = 0;
      for (let i = 0; i < hub.points; i++) sum += hub.weight(h, i) * (half[i * rim.centres + r] as number);
      put(h * rim.centres + r, sum);
    }
};
