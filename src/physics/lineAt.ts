import type { ToneTable } from './toneTable.ts';

/** Sensitivities are kept at every second tension of a table. */
export const COARSE = 2;

/** Reads of a table at one node and tension: the slots of `out`. */
export const LINE = {
  lnF: 0,
  slope: 1,
  length: 2,
  crossing: 3,
  stiffness: 4,
  second: 5,
  first: 6,
  rimEnd: 7,
  hubPiece: 8,
  rimPiece: 9,
  mass: 10,
  shear: 11,
} as const;
export const LINE_SIZE = 12;

/** ln f of one mode at one node of the grid (cubic Hermite in ln T); outside the table's tensions its end is continued straight. */
export const lnFrequencyAt = (table: ToneTable, node: number, mode: number, lnT: number): number => {
  const x = (lnT - table.lnTStart) / table.lnTStep;
  const i = Math.min(Math.max(Math.floor(x), 0), table.steps - 2);
  const f = x - i;
  const at = (node * table.modes + mode) * table.steps + i;
  const y0 = table.lnF[at] as number;
  const y1 = table.lnF[at + 1] as number;
  const s0 = table.slope[at] as number;
  const s1 = table.slope[at + 1] as number;
  if (f < 0) return y0 + s0 * f;
  if (f > 1) return y1 + s1 * (f - 1);
  const d = y1 - y0;
  return y0 + f * (s0 + f * (3 * d - 2 * s0 - s1 + f * (s0 + s1 - 2 * d)));
};

/** The same with its slope and its sensitivities, into `out` in the order of `LINE`. */
export const lineAt = (table: ToneTable, node: number, mode: number, lnT: number, out: Float64Array): void => {
  const step = table.lnTStep;
  const x = Math.min(Math.max((lnT - table.lnTStart) / step, 0), table.steps - 1.000001);
  const i = Math.floor(x);
  const f = x - i;
  const row = node * table.modes + mode;
  const at = row * table.steps + i;
  const y0 = table.lnF[at] as number;
  const s0 = table.slope[at] as number;
  const s1 = table.slope[at + 1] as number;
  const d = (table.lnF[at + 1] as number) - y0;
  const quadratic = 3 * d - 2 * s0 - s1;
  const cubic = s0 + s1 - 2 * d;
  out[0] = y0 + f * (s0 + f * (quadratic + f * cubic));
  out[1] = (s0 + f * (2 * quadratic + 3 * f * cubic)) / step;
  const c = x / COARSE;
  const j = Math.floor(c);
  const g = c - j;
  const from = row * table.coarseSteps + j;
  const { length, crossing, stiffness, second, first, rimEnd, hubPiece, rimPiece, shear } = table.sensitivity;
  out[2] = between(length, from, g);
  out[3] = between(crossing, from, g);
  out[4] = between(stiffness, from, g);
  out[5] = between(second, from, g);
  out[6] = between(first, from, g);
  out[7] = between(rimEnd, from, g);
  out[8] = between(hubPiece, from, g);
  out[9] = between(rimPiece, from, g);
  out[10] = -0.5 + table.bendsWithMass * (out[4] as number);
  out[11] = table.shears ? between(shear, from, g) : 0;
};

const between = (a: Float32Array, i: number, g: number): number =>
  (a[i] as number) * (1 - g) + (a[i + 1] as number) * g;

/** Share of the kinetic energy beyond the crossing, 0..1. */
export const shareAt = (table: ToneTable, node: number, mode: number, lnT: number): number => {
  const x = (lnT - table.lnTStart) / table.lnTStep / COARSE;
  const j = Math.min(Math.max(Math.round(x), 0), table.coarseSteps - 1);
  return table.share[(node * table.modes + mode) * table.coarseSteps + j] as number;
};

/** The ln T at which a mode has this ln f; undefined outside the table's tensions. Bisection, then secants: ln f rises with ln T. */
export const lnTensionAt = (table: ToneTable, node: number, mode: number, lnF: number): number | undefined => {
  const base = (node * table.modes + mode) * table.steps;
  let low = 0;
  let high = table.steps - 1;
  if (lnF < (table.lnF[base] as number) || lnF > (table.lnF[base + high] as number)) return undefined;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((table.lnF[base + middle] as number) > lnF) high = middle;
    else low = middle;
  }
  const y0 = table.lnF[base + low] as number;
  const y1 = table.lnF[base + high] as number;
  let lnT = table.lnTStart + (low + (lnF - y0) / Math.max(y1 - y0, 1e-12)) * table.lnTStep;
  for (let i = 0; i < 2; i++) {
    const slope = (y1 - y0) / table.lnTStep;
    lnT += (lnF - lnFrequencyAt(table, node, mode, lnT)) / Math.max(slope, 1e-6);
  }
  return lnT;
};

/** The node in the middle of the grid. */
export const middleOf = ({ hub, rim }: ToneTable): number =>
  Math.floor(hub.lnK.length / 2) * rim.lnK.length + Math.floor(rim.lnK.length / 2);

/** ∂ln f/∂(compliance of the rim's support), N/m, at the middle of the grid. */
export const rimGiveAt = (table: ToneTable, mode: number, lnT: number): number => {
  const x = Math.min(Math.max((lnT - table.lnTStart) / table.lnTStep, 0), table.steps - 1.000001) / COARSE;
  const j = Math.floor(x);
  return between(table.sensitivity.rimGive, (middleOf(table) * table.modes + mode) * table.coarseSteps + j, x - j);
};
