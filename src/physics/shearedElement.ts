/** Hyperbolic and oscillatory wave numbers of a piece that shears, 1/m, and what turns of its section go with unit cosh αx and cos βx. */
export interface ShearedWaves {
  alpha: number;
  beta: number;
  p: number;
  q: number;
}

/**
 * Wave numbers of a tensioned piece that shears: v = e^{λx} with EI(1 + T/S)·λ⁴ − (T − EI·µω²/S)·λ² − µω² = 0, λ = α or iβ; its section turns
 * by Ψ = λ/(1 − EI·λ²/S).
 *
 * @param inertia µω², N/m²
 * @param compliance 1/S, S = κGA, 1/N; 0 gives Euler–Bernoulli
 * @source Timoshenko, Philosophical Magazine 41 (1921), 744 (shear); the tension acts on the slope of the centre line; rotary inertia left out
 */
export const shearedWaves = (
  inertia: number,
  bending: number,
  tension: number,
  compliance: number,
  out: ShearedWaves,
): void => {
  const lead = bending * (1 + tension * compliance);
  const middle = tension - bending * inertia * compliance;
  const root = Math.sqrt(middle * middle + 4 * lead * inertia);
  // Of the two forms of each root the one that adds what has one sign.
  const large = middle > 0 ? middle + root : root - middle;
  const alpha2 = middle > 0 ? large / (2 * lead) : (2 * inertia) / large;
  const beta2 = middle > 0 ? (2 * inertia) / large : large / (2 * lead);
  out.alpha = Math.sqrt(alpha2);
  out.beta = Math.sqrt(beta2);
  out.p = out.alpha / (1 - bending * compliance * alpha2);
  out.q = out.beta / (1 + bending * compliance * beta2);
};

/** Greatest αl and βl of the cubic element, whose error grows as their fourth power, the exact form's rounding as its inverse: 1e-8 at most, both. */
const SHORT = 0.02;
const waves: ShearedWaves = { alpha: 0, beta: 0, p: 0, q: 0 };

/**
 * Dynamic stiffness of one uniform, tensioned piece that bends and shears, written into `out` as by `elementStiffness`; θ is the turn of the
 * section, not the slope.
 *
 * Method: the exact solution of (S + T)v″ − Sψ′ + µω²v = 0 and EIψ″ + S(v′ − ψ) = 0 with end forces (S + T)v′ − Sψ and EIψ′, scaled by exp(−αl).
 * With S infinite every term goes over into that of `elementStiffness`. Shorter pieces use the cubic element whose shape follows shear.
 *
 * @param compliance 1/S, 1/N, > 0
 * @validity βl < π: then the denominator is positive (p ≥ α, q ≤ β), and no clamped mode hides inside the piece; rotary inertia is neglected.
 */
export const shearedStiffness = (
  out: Float64Array,
  length: number,
  mass: number,
  bending: number,
  tension: number,
  omega: number,
  compliance: number,
): void => {
  const inertia = mass * omega * omega;
  shearedWaves(inertia, bending, tension, compliance, waves);
  const { alpha: a, beta: b, p, q } = waves;
  const al = a * length;
  const bl = b * length;
  if (al < SHORT && bl < SHORT) {
    shearedCubic(out, length, inertia, bending, tension, compliance);
    return;
  }
  const e = Math.exp(-al);
  const C = 0.5 * (1 + e * e);
  const S = 0.5 * (1 - e * e);
  const s = Math.sin(bl);
  const c = Math.cos(bl);
  const D = 2 * p * q * (e - C * c) + (p * p - q * q) * S * s;
  const turn = p * a + q * b;
  const force = inertia / (a * b * D);
  const moment = (bending * turn) / D;
  out[0] = force * turn * (p * S * c + q * C * s);
  out[1] = force * ((p * b + q * a) * S * s - (p * a - q * b) * (e - C * c));
  out[2] = -force * turn * (p * S + q * s * e);
  out[3] = force * turn * (C - c * e);
  out[4] = moment * (p * C * s - q * S * c);
  out[5] = moment * (q * S - p * s * e);
};

/**
 * Cubic element: the static shape of a piece that bends and shears, its tension and consistent mass.
 *
 * Method: with ψ̂ = s·ψ, s = S/(S + T), the energy is that of a piece of bending stiffness EI/s², shear stiffness S + T and a foundation T/s that resists ψ̂,
 * so that the tension asks no other shape of it than shear alone does; φ = 12·EI/(s²·(S + T)·l²).
 * @source Friedman & Kosmatka, Computers & Structures 47 (1993), 473 (interdependent interpolation; its matrices integrated again)
 */
const shearedCubic = (
  out: Float64Array,
  l: number,
  inertia: number,
  bending: number,
  tension: number,
  compliance: number,
): void => {
  const s = 1 / (1 + tension * compliance);
  const stiffness = bending / (s * s);
  const phi = (12 * stiffness * compliance * s) / (l * l);
  const soft = 1 + phi;
  const k = stiffness / (l * l * l * soft);
  const g = tension / (30 * s * l * soft * soft);
  const m = (inertia * l) / (840 * soft * soft);
  out[0] = 12 * k + 36 * g - (312 + 588 * phi + 280 * phi * phi) * m;
  out[1] = s * l * (6 * k + (3 - 15 * phi) * g - (44 + 77 * phi + 35 * phi * phi) * m);
  out[2] = -12 * k - 36 * g - (108 + 252 * phi + 140 * phi * phi) * m;
  out[3] = s * l * (6 * k + (3 - 15 * phi) * g + (26 + 63 * phi + 35 * phi * phi) * m);
  out[4] = s * s * l * l * ((4 + phi) * k + (4 + 5 * phi + 10 * phi * phi) * g - (8 + 14 * phi + 7 * phi * phi) * m);
  out[5] = s * s * l * l * ((2 - phi) * k - (1 + 5 * phi - 5 * phi * phi) * g + (6 + 14 * phi + 7 * phi * phi) * m);
};
