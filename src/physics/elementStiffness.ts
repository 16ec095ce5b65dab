import { shearedStiffness } from './shearedElement.ts';

/**
 * Dynamic stiffness of one uniform, tensioned piece, written into `out` as [K11, K12, K13, K14, K22, K24].
 *
 * Method: Euler–Bernoulli unless the piece shears (`shearedStiffness`): the exact solution of EI·y'''' − T·y'' + µ·ÿ = 0 with hyperbolic functions scaled by exp(−αl), so that nothing overflows;
 * degrees of freedom (v1, θ1, v2, θ2), the full matrix being
 * [[K11, K12, K13, K14], [K12, K22, −K14, K24], [K13, −K14, K11, −K12], [K14, K24, −K12, K22]].
 * Pieces so short that numerator and denominator both vanish (αl, βl < 0.06) use the cubic element instead (error below 1e-8).
 *
 * @param length m, > 0
 * @param mass kg/m, > 0
 * @param bending N·m², > 0
 * @param tension N, ≥ 0
 * @param omega rad/s, > 0
 * @param compliance in shear, 1/(κGA), 1/N; 0: none
 * @source Banerjee, Transportation Safety and Environment 1(2) (2019), 106–116 (dynamic stiffness method); Przemieniecki, Theory of
 *   Matrix Structural Analysis (1968), ch. 11 and 15 (cubic element, from memory)
 * @validity βl < π (the caller subdivides): then the denominator is positive and no clamped mode hides inside the piece.
 */
export const elementStiffness = (
  out: Float64Array,
  length: number,
  mass: number,
  bending: number,
  tension: number,
  omega: number,
  compliance: number,
): void => {
  if (compliance > 0) {
    shearedStiffness(out, length, mass, bending, tension, omega, compliance);
    return;
  }
  const inertia = mass * omega * omega;
  const root = Math.sqrt(tension * tension + 4 * bending * inertia);
  const a = Math.sqrt((tension + root) / (2 * bending));
  const b = Math.sqrt((2 * inertia) / (tension + root));
  const al = a * length;
  const bl = b * length;
  if (al < 0.06 && bl < 0.06) {
    cubicElement(out, length, inertia, bending, tension);
    return;
  }
  const e = Math.exp(-al);
  const C = 0.5 * (1 + e * e);
  const S = 0.5 * (1 - e * e);
  const s = Math.sin(bl);
  const c = Math.cos(bl);
  const q = root / bending;
  const difference = tension / bending; // α² − β²
  const D = 2 * a * b * (e - C * c) + difference * S * s;
  const scale = bending / D;
  const abq = scale * a * b * q;
  out[0] = abq * (a * S * c + b * C * s);
  out[1] = scale * a * b * (2 * a * b * S * s - difference * (e - C * c));
  out[2] = -abq * (a * S + b * s * e);
  out[3] = abq * (C - c * e);
  out[4] = scale * q * (a * C * s - b * S * c);
  out[5] = scale * q * (b * S - a * s * e);
};

/** Cubic (Hermite) element: bending, tension and consistent mass. */
const cubicElement = (out: Float64Array, l: number, inertia: number, bending: number, tension: number): void => {
  const k = bending / (l * l * l);
  const g = tension / (30 * l);
  const m = (inertia * l) / 420;
  out[0] = 12 * k + 36 * g - 156 * m;
  out[1] = l * (6 * k + 3 * g - 22 * m);
  out[2] = -12 * k - 36 * g - 54 * m;
  out[3] = l * (6 * k + 3 * g + 13 * m);
  out[4] = l * l * (4 * k + 4 * g - 4 * m);
  out[5] = l * l * (2 * k - g + 3 * m);
};
