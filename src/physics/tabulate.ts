import type { Plane } from '../contract.ts';
import { axisOf, spread } from './endAxis.ts';
import { findModeNear, findModes } from './findModes.ts';
import { COARSE } from './lineAt.ts';
import { BENDS, type Member } from './member.ts';
import { RootProbe } from './rootProbe.ts';
import { searchNodes } from './searchNodes.ts';
import type { Spread } from './spreadPrior.ts';
import { INPUTS, type TableInput, type TableOptions, type ToneTable } from './toneTable.ts';

const LN_T_LOW = Math.log(8);
const LN_T_HIGH = Math.log(6500);
const ROOT_TOLERANCE = 1e-11;

/** See `prepareMember`. */
export const tabulate = (member: Member, plane: Plane, options: TableOptions): ToneTable => {
  const { hub, rim, modes } = options;
  const coarseSteps = Math.ceil((LN_T_HIGH - LN_T_LOW) / (options.step * COARSE)) + 1;
  const steps = (coarseSteps - 1) * COARSE + 1;
  const nodes = hub.lnK.length * rim.lnK.length;
  const fine = (): Float64Array => new Float64Array(nodes * modes * steps);
  const coarse = (): Float32Array => new Float32Array(nodes * modes * coarseSteps);
  const lnF = fine();
  const sensitivity = Object.fromEntries(INPUTS.map((input) => [input, coarse()])) as Record<TableInput, Float32Array>;
  const share = coarse();
  const table: ToneTable = {
    plane,
    hub,
    rim,
    firstAxis: options.support === 'hubAxis' ? 'support' : 'hubEnd',
    secondSigma: options.secondSigma ?? 0,
    bendsWithMass: member.weighed?.bends ? BENDS : 0,
    shears: member.sections.some(({ shear }) => shear !== undefined),
    lnPrior: nodePriorOf(hub, rim),
    modes,
    lnTStart: LN_T_LOW,
    lnTStep: options.step,
    steps,
    lnF,
    slope: fine(),
    sensitivity,
    share,
    coarseSteps,
    searchNodes: [],
  };
  const hubAxis = axisOf(hub, options.hubPoints);
  const rimAxis = axisOf(rim, options.rimPoints);
  const points = hubAxis.points * rimAxis.points;
  const probe = new RootProbe(member, plane, options);
  // Roots at the Chebyshev points, one history of tensions per point, for extrapolated guesses.
  const history = new Float64Array(points * 3);
  const values = new Float64Array(points);
  const rows = INPUTS.length + 1;
  const derived = new Float64Array(rows * points);
  const roots = new Float64Array(points);
  for (let m = 0; m < modes; m++)
    for (let t = steps - 1; t >= 0; t--) {
      const tension = Math.exp(LN_T_LOW + t * options.step);
      const scale = ownStiffness(member, plane, tension, m + 1);
      hubAxis.place(options.support === 'hubAxis' ? supportScale(member, tension) : scale);
      rimAxis.place(scale);
      const age = steps - 1 - t;
      const wantsDerived = t % COARSE === 0;
      for (let p = 0; p < points; p++) {
        probe.set(hubAxis.k(Math.floor(p / rimAxis.points)), rimAxis.k(p % rimAxis.points));
        const h1 = history[p * 3] as number;
        const h2 = history[p * 3 + 1] as number;
        const h3 = history[p * 3 + 2] as number;
        let omega: number;
        if (age === 0) omega = findModes(probe.chain, tension, m + 1, 500)[m] as number;
        else {
          const guess = age === 1 ? h1 - 0.4 * options.step : age === 2 ? 2 * h1 - h2 : 3 * h1 - 3 * h2 + h3;
          omega = findModeNear(probe.chain, tension, m, Math.exp(guess), age < 3 ? 0.02 : 6e-4, ROOT_TOLERANCE);
        }
        history[p * 3 + 2] = h2;
        history[p * 3 + 1] = h1;
        history[p * 3] = Math.log(omega);
        roots[p] = Math.log(omega / (2 * Math.PI));
        if (wantsDerived) probe.derive(omega, tension, derived, p * rows);
      }
      spread(roots, hubAxis, rimAxis, (node, value) => {
        lnF[(node * modes + m) * steps + t] = value;
      });
      for (let row = 0; wantsDerived && row < rows; row++) {
        for (let p = 0; p < points; p++) values[p] = derived[p * rows + row] as number;
        const target = row < INPUTS.length ? sensitivity[INPUTS[row] as TableInput] : share;
        spread(values, hubAxis, rimAxis, (node, value) => {
          target[(node * modes + m) * coarseSteps + t / COARSE] = value;
        });
      }
    }
  fillSlopes(table);
  return { ...table, searchNodes: searchNodes(table) };
};

const nodePriorOf = (hub: Spread, rim: Spread): Float64Array => {
  const weights = ({ lnK, weights: w }: Spread): readonly number[] => w ?? lnK.map(() => 1 / lnK.length);
  return Float64Array.from(weights(hub).flatMap((h) => weights(rim).map((r) => Math.log(h * r))));
};

/** Stiffness of the wire itself against rotation, EI·α·(1 + β²/α²) at β = nπ/L: the scale of clampedness, N·m/rad. */
const ownStiffness = (member: Member, plane: Plane, tension: number, mode: number): number => {
  let length = 0;
  let flexibility = 0;
  for (const s of member.sections) {
    length += s.length;
    flexibility += s.length / (plane === 'inPlane' ? s.bendingInPlane : s.bendingAcross);
  }
  const bending = length / flexibility;
  const beta = (mode * Math.PI) / length;
  const alpha = Math.sqrt(tension / bending + beta * beta);
  return bending * (alpha + (beta * beta) / alpha);
};
const supportScale = (member: Member, tension: number): number => {
  const length = member.sections.reduce((sum, s) => sum + s.length, 0);
  return (20 * (tension + 50)) / length;
};

/** Slopes of the cubic spline through each row (not-a-knot ends replaced by one-sided differences of third order). */
const fillSlopes = (table: ToneTable): void => {
  const { steps, lnF, slope } = table;
  const c = new Float64Array(steps);
  for (let base = 0; base < lnF.length; base += steps) {
    const y = (i: number): number => lnF[base + i] as number;
    const n = steps - 1;
    const first = (-11 * y(0) + 18 * y(1) - 9 * y(2) + 2 * y(3)) / 6;
    const last = (11 * y(n) - 18 * y(n - 1) + 9 * y(n - 2) - 2 * y(n - 3)) / 6;
    slope[base] = first;
    slope[base + n] = last;
    // s[i−1] + 4·s[i] + s[i+1] = 3·(y[i+1] − y[i−1])
    c[0] = 0;
    for (let i = 1; i < n; i++) {
      const pivot = 4 - (c[i - 1] as number);
      c[i] = 1 / pivot;
      slope[base + i] =
        (3 * (y(i + 1) - y(i - 1)) - (slope[base + i - 1] as number) - (i === n - 1 ? last : 0)) / pivot;
    }
    for (let i = n - 2; i > 0; i--)
      slope[base + i] = (slope[base + i] as number) - (c[i] as number) * (slope[base + i + 1] as number);
  }
};
