import type { MeasureRefusal, Reading } from '../src/contract.ts';
import { pc, quantile } from './tables.ts';

/** Errors and stated uncertainties of one way of measuring. */
export class Score {
  private readonly errors: number[] = [];
  private readonly stated: number[] = [];
  private readonly within: number[] = [];
  private asked = 0;
  private covered = 0;
  private coveredWithin = 0;

  add(result: Reading | MeasureRefusal | undefined, truth: number): number | undefined {
    this.asked++;
    if (result === undefined || !result.ok) return undefined;
    const u = Math.hypot(result.uOwnN, result.uCommonN) / result.tensionN;
    return this.addError(Math.log(result.tensionN / truth), u);
  }
  addError(error: number, u: number): number {
    this.errors.push(Math.abs(error));
    this.stated.push(1.96 * u);
    if (Math.abs(error) < 1.96 * u) this.covered++;
    return error;
  }
  addBare(error: number): void {
    this.asked++;
    this.addError(error, 0);
  }
  addSide(errors: readonly number[], own: readonly number[]): void {
    if (errors.length < 4) return;
    const middle = quantile(errors, 0.5);
    errors.forEach((e, i) => {
      this.within.push(Math.abs(e - middle));
      if (Math.abs(e - middle) < 1.96 * (own[i] ?? 0)) this.coveredWithin++;
    });
  }
  static readonly HEAD = [
    '',
    'asked',
    'answered %',
    'median %',
    '95th %',
    'gross %',
    'covers %',
    'median U %',
    'in side 50th',
    '95th',
    'covers %',
  ];
  row(name: string, bare = false): string[] {
    const n = this.errors.length;
    const side = this.within.length;
    return [
      name,
      String(this.asked),
      pc(n / this.asked, 1),
      pc(quantile(this.errors, 0.5)),
      pc(quantile(this.errors, 0.95)),
      pc(this.errors.filter((e) => e > 0.15).length / n, 2),
      bare ? '–' : pc(this.covered / n, 1),
      bare ? '–' : pc(quantile(this.stated, 0.5), 1),
      side > 0 ? pc(quantile(this.within, 0.5)) : '–',
      side > 0 ? pc(quantile(this.within, 0.95)) : '–',
      side > 0 ? pc(this.coveredWithin / side, 1) : '–',
    ];
  }
}
