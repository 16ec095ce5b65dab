/** Eigenvalues ascending and eigenvectors: `vectors[i * n + j]` is component i of eigenvector j. */
export interface Eigen {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
}

/**
 * Every eigenvalue and eigenvector of a real symmetric matrix, row-major n × n (left untouched).
 * Householder reduction to tridiagonal form, then implicit QL with Wilkinson's shift; the rotations are accumulated.
 * @source Martin, Reinsch & Wilkinson, Numer. Math. 11 (1968) 181 (tred2); Bowdler, Martin, Reinsch & Wilkinson, Numer. Math. 11 (1968) 293 (tql2)
 */
export function symmetricEigen(matrix: Float64Array, n: number): Eigen {
  if (matrix.length < n * n) throw new RangeError(`matrix has ${matrix.length} entries, expected ${n * n}`);
  const a = matrix.slice(0, n * n);
  const q = new Float64Array(n * n);
  for (let i = 0; i < n; i++) q[i * n + i] = 1;
  const u = new Float64Array(n);
  const p = new Float64Array(n);
  for (let k = 0; k < n - 2; k++) reduceColumn(a, q, u, p, k, n);
  const d = new Float64Array(n);
  const e = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    d[i] = a[i * n + i] as number;
    if (i < n - 1) e[i] = a[(i + 1) * n + i] as number;
  }
  implicitQl(d, e, q, n);
  return sorted(d, q, n);
}

/** Reflects column k so that everything under its first subdiagonal vanishes: A ← HAH, Q ← QH, H = I − 2uuᵀ. */
function reduceColumn(a: Float64Array, q: Float64Array, u: Float64Array, p: Float64Array, k: number, n: number): void {
  let sum = 0;
  for (let i = k + 1; i < n; i++) sum += (a[i * n + k] as number) ** 2;
  const head = a[(k + 1) * n + k] as number;
  if (sum - head * head <= 0) return;
  const alpha = head > 0 ? -Math.sqrt(sum) : Math.sqrt(sum);
  const norm = Math.sqrt(2 * (sum - head * alpha));
  for (let i = k + 1; i < n; i++) u[i] = (a[i * n + k] as number) / norm;
  u[k + 1] = (head - alpha) / norm;
  let dot = 0;
  for (let i = k; i < n; i++) {
    let s = 0;
    for (let j = k + 1; j < n; j++) s += (a[i * n + j] as number) * (u[j] as number);
    p[i] = 2 * s;
    if (i > k) dot += (u[i] as number) * s * 2;
  }
  u[k] = 0;
  for (let i = k; i < n; i++) {
    const ui = u[i] as number;
    const wi = (p[i] as number) - dot * ui;
    for (let j = k; j < n; j++) {
      const uj = u[j] as number;
      const wj = (p[j] as number) - dot * uj;
      a[i * n + j] = (a[i * n + j] as number) - ui * wj - wi * uj;
    }
  }
  for (let i = 0; i < n; i++) {
    let s = 0;
    for (let j = k + 1; j < n; j++) s += (q[i * n + j] as number) * (u[j] as number);
    for (let j = k + 1; j < n; j++) q[i * n + j] = (q[i * n + j] as number) - 2 * s * (u[j] as number);
  }
}

function implicitQl(d: Float64Array, e: Float64Array, q: Float64Array, n: number): void {
  for (let l = 0; l < n; l++) {
    for (let iteration = 0; ; iteration++) {
      let m = l;
      while (m < n - 1) {
        const size = Math.abs(d[m] as number) + Math.abs(d[m + 1] as number);
        if (Math.abs(e[m] as number) <= 1.1e-16 * size) break;
        m++;
      }
      if (m === l) break;
      if (iteration > 80) throw new RangeError('QL iteration did not converge in 80 steps');
      let g = ((d[l + 1] as number) - (d[l] as number)) / (2 * (e[l] as number));
      let r = Math.hypot(g, 1);
      g = (d[m] as number) - (d[l] as number) + (e[l] as number) / (g + (g >= 0 ? r : -r));
      let s = 1;
      let c = 1;
      let p = 0;
      let broke = false;
      for (let i = m - 1; i >= l; i--) {
        const f = s * (e[i] as number);
        const b = c * (e[i] as number);
        r = Math.hypot(f, g);
        e[i + 1] = r;
        if (r === 0) {
          d[i + 1] = (d[i + 1] as number) - p;
          e[m] = 0;
          broke = true;
          break;
        }
        s = f / r;
        c = g / r;
        g = (d[i + 1] as number) - p;
        r = ((d[i] as number) - g) * s + 2 * c * b;
        p = s * r;
        d[i + 1] = g + p;
        g = c * r - b;
        for (let k = 0; k < n; k++) {
          const row = k * n + i;
          const t = q[row + 1] as number;
          q[row + 1] = s * (q[row] as number) + c * t;
          q[row] = c * (q[row] as number) - s * t;
        }
      }
      if (broke) continue;
      d[l] = (d[l] as number) - p;
      e[l] = g;
      e[m] = 0;
    }
  }
}

function sorted(d: Float64Array, q: Float64Array, n: number): Eigen {
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => (d[i] as number) - (d[j] as number));
  const vectors = new Float64Array(n * n);
  order.forEach((from, to) => {
    for (let i = 0; i < n; i++) vectors[i * n + to] = q[i * n + from] as number;
  });
  return { values: Float64Array.from(order, (i) => d[i] as number), vectors };
}
