import type { Cost, MayPay } from '../algorithms/problem.js';

/** Leaves out moves that do not pay, and keeps whether it did. */
export class Paying {
  /** Whether a move was left out. */
  leftOut = false;

  constructor(private readonly mayPay: MayPay = () => true) {}

  /** Whether a move by which all to come costs at least this is to be judged. */
  admits(least: Cost): boolean {
    const pays = this.mayPay(least);
    this.leftOut ||= !pays;
    return pays;
  }
}
