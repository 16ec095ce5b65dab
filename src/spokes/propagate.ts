/** An input quantity: estimate, standard uncertainty, and how well that is known. */
export interface InputQuantity {
  readonly value: number;
  readonly u: number;
  /** Degrees of freedom of `u`. Default: infinite, known exactly. */
  readonly degrees?: number;
}

export interface Propagated {
  readonly values: readonly number[];
  /** Standard uncertainties of the results. */
  readonly u: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Effective degrees of freedom of each result. */
  readonly degrees: readonly number[];
  /** ∂result/∂input · u(input), by result and input. */
  readonly contributions: readonly (readonly number[])[];
}

/**
 * Carries uncertainties through a model, several results at once, correlated inputs too.
 *
 * First order: covariance of the results is C = J V Jᵀ, the slopes taken over ± one standard uncertainty, so that gentle curvature is averaged
 * as it acts. Effective degrees of freedom after Welch and Satterthwaite, for inputs without correlation.
 *
 * @param correlations By input and input; default none.
 * @source JCGM 100:2008, 5.1.2, 5.2.2, G.4.1 (Welch–Satterthwaite)
 * @validity Models nearly linear over ± u.
 */
export function propagate(
  model: (inputs: readonly number[]) => readonly number[],
  inputs: readonly InputQuantity[],
  correlations?: readonly (readonly number[])[],
): Propagated {
  const centre = inputs.map((input) => input.value);
  const values = model(centre);
  const moved = (i: number, by: number) => model(centre.map((value, j) => (j === i ? value + by : value)));
  const slopesTimesU = inputs.map(({ u }, i) => {
    if (u === 0) return values.map(() => 0);
    const up = moved(i, u);
    const down = moved(i, -u);
    return values.map((_, k) => ((up[k] ?? 0) - (down[k] ?? 0)) / 2);
  });
  const contributions = values.map((_, k) => slopesTimesU.map((one) => one[k] ?? 0));
  const correlation = (i: number, j: number) => (i === j ? 1 : (correlations?.[i]?.[j] ?? 0));
  const covariance = contributions.map((a) =>
    contributions.map((b) =>
      a.reduce((sum, ai, i) => sum + b.reduce((inner, bj, j) => inner + ai * bj * correlation(i, j), 0), 0),
    ),
  );
  const u = values.map((_, k) => Math.sqrt(covariance[k]?.[k] ?? 0));
  const degrees = contributions.map((parts, k) => {
    const spread = parts.reduce(
      (sum, part, i) => sum + part ** 4 / (inputs[i]?.degrees ?? Number.POSITIVE_INFINITY),
      0,
    );
    return spread === 0 ? Number.POSITIVE_INFINITY : (u[k] ?? 0) ** 4 / spread;
  });
  return { values, u, covariance, degrees, contributions };
}
