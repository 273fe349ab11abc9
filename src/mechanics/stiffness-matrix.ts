import { factorise, lowerTriangle, solveFactorised, type LowerTriangle } from '../algorithms/cholesky.js';
import type { PointStore } from './point-store.js';
import { GROUND } from './system.js';

/** Second derivative of an energy by the scaled motions of the bodies that any point touches: six rows a body. */
export class StiffnessMatrix {
  private readonly matrix: LowerTriangle;
  /** First row of each body, -1 for one that nothing touches. */
  private readonly rows: Int32Array;
  /** Body of every six rows. */
  private readonly bodies: Int32Array;
  private readonly weights = new Float64Array(12);
  private readonly places = new Int32Array(12);
  private readonly side: Float64Array;

  constructor(bodyCount: number, stores: readonly PointStore[]) {
    const touched = new Uint8Array(bodyCount);
    for (const { bodies, count } of stores)
      for (let i = 0; i < 2 * count; i += 1) if (bodies[i] !== GROUND) touched[bodies[i]!] = 1;
    this.bodies = Int32Array.from(touched.keys()).filter((body) => touched[body] === 1);
    this.rows = new Int32Array(bodyCount).fill(-1);
    this.bodies.forEach((body, i) => (this.rows[body] = 6 * i));
    this.matrix = lowerTriangle(6 * this.bodies.length);
    this.side = new Float64Array(this.matrix.size);
    this.matrix.first.forEach((_, row) => (this.matrix.first[row] = row - (row % 6)));
    for (const { bodies, count } of stores)
      for (let i = 0; i < count; i += 1) this.meet(bodies[2 * i]!, bodies[2 * i + 1]!);
  }

  /** Everything zero but the diagonal. */
  reset(diagonal: number): void {
    this.matrix.entries.fill(0);
    for (let i = 0; i < this.matrix.size; i += 1) this.matrix.entries[i * this.matrix.size + i] = diagonal;
  }

  /** Adds the stiffness of a point against displacements of b against a in one direction. */
  addPoint(points: PointStore, i: number, x: number, y: number, z: number, stiffness: number): void {
    const a = points.bodies[2 * i]!;
    const b = points.bodies[2 * i + 1]!;
    const rowA = a === GROUND ? -1 : this.rows[a]!;
    const rowB = b === GROUND ? -1 : this.rows[b]!;
    // The body of the lower rows goes first, so that places rise and all that is added is below the diagonal.
    const aFirst = rowA < rowB;
    let length = this.weigh(
      0,
      aFirst ? rowA : rowB,
      points,
      6 * i + (aFirst ? 0 : 3),
      aFirst ? -1 : 1,
      x,
      y,
      z,
    );
    length = this.weigh(
      length,
      aFirst ? rowB : rowA,
      points,
      6 * i + (aFirst ? 3 : 0),
      aFirst ? 1 : -1,
      x,
      y,
      z,
    );
    const { entries, size } = this.matrix;
    for (let row = 0; row < length; row += 1) {
      const factor = stiffness * this.weights[row]!;
      if (factor === 0) continue;
      const at = this.places[row]! * size;
      for (let column = 0; column <= row; column += 1)
        entries[at + this.places[column]!]! += factor * this.weights[column]!;
    }
  }

  /** Whether the matrix could be factorised, which spoils it for adding; must come before `solve`. */
  factorise(): boolean {
    return factorise(this.matrix).ok;
  }

  /** Solves for minus the gradient; both by body, six numbers each, zero for bodies that nothing touches. */
  descent(gradient: Float64Array): Float64Array {
    const { side, bodies } = this;
    bodies.forEach((body, i) => {
      for (let k = 0; k < 6; k += 1) side[6 * i + k] = -gradient[6 * body + k]!;
    });
    solveFactorised(this.matrix, side);
    const out = new Float64Array(gradient.length);
    bodies.forEach((body, i) => out.set(side.subarray(6 * i, 6 * i + 6), 6 * body));
    return out;
  }

  /** Makes room for entries between two bodies. */
  private meet(a: number, b: number): void {
    if (a === GROUND || b === GROUND) return;
    const [low, high] = [Math.min(this.rows[a]!, this.rows[b]!), Math.max(this.rows[a]!, this.rows[b]!)];
    const { first } = this.matrix;
    if (first[high]! > low) first.fill(low, high, high + 6);
  }

  /** Weights of one end in the six numbers of its body; gives the length with them. */
  private weigh(
    length: number,
    row: number,
    { arms }: PointStore,
    arm: number,
    sign: number,
    x: number,
    y: number,
    z: number,
  ): number {
    if (row < 0) return length;
    const { weights, places } = this;
    const [rx, ry, rz] = [arms[arm]!, arms[arm + 1]!, arms[arm + 2]!];
    weights[length] = sign * x;
    weights[length + 1] = sign * y;
    weights[length + 2] = sign * z;
    weights[length + 3] = sign * (ry * z - rz * y);
    weights[length + 4] = sign * (rz * x - rx * z);
    weights[length + 5] = sign * (rx * y - ry * x);
    for (let k = 0; k < 6; k += 1) places[length + k] = row + k;
    return length + 6;
  }
}
