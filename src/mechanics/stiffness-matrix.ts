import { factorise, lowerTriangle, solveFactorised, type LowerTriangle } from '../algorithms/cholesky.js';
import { narrowOrder } from '../algorithms/narrow-order.js';
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
    const { touched, neighbours } = meetings(bodyCount, stores);
    this.bodies = Int32Array.from(narrowOrder(neighbours).filter((body) => touched[body] === 1));
    this.rows = new Int32Array(bodyCount).fill(-1);
    this.bodies.forEach((body, i) => (this.rows[body] = 6 * i));
    this.matrix = lowerTriangle(6 * this.bodies.length);
    this.side = new Float64Array(this.matrix.size);
    this.bodies.forEach((body, i) => {
      const first = neighbours[body]!.reduce((least, other) => Math.min(least, this.rows[other]!), 6 * i);
      this.matrix.first.fill(first, 6 * i, 6 * i + 6);
    });
  }

  /** Everything zero but the diagonal. */
  reset(diagonal: number): void {
    const { entries, first, size } = this.matrix;
    for (let i = 0; i < size; i += 1) {
      entries.fill(0, i * size + first[i]!, i * size + i);
      entries[i * size + i] = diagonal;
    }
  }

  /** Adds the stiffness of a point that is the same against displacements of b against a in every direction. */
  addEven(points: PointStore, i: number, stiffness: number): void {
    const a = points.bodies[2 * i]!;
    const b = points.bodies[2 * i + 1]!;
    const rowA = a === GROUND ? -1 : this.rows[a]!;
    const rowB = b === GROUND ? -1 : this.rows[b]!;
    const armA = 6 * i;
    const armB = armA + 3;
    if (rowA >= 0) this.addBlock(rowA, rowA, points.arms, armA, armA, stiffness);
    if (rowB >= 0) this.addBlock(rowB, rowB, points.arms, armB, armB, stiffness);
    if (rowA < 0 || rowB < 0) return;
    if (rowA > rowB) this.addBlock(rowA, rowB, points.arms, armA, armB, -stiffness);
    else this.addBlock(rowB, rowA, points.arms, armB, armA, -stiffness);
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

  /**
   * Adds k [[1, -[q]], [[p], (p.q) 1 - q p']] to the six rows and columns that begin there, where [p] is the matrix of
   * the cross product with the lever arm p of the rows and q that of the columns. What it adds above the diagonal is
   * never read.
   */
  private addBlock(
    row: number,
    column: number,
    arms: Float64Array,
    armP: number,
    armQ: number,
    k: number,
  ): void {
    const { entries, size } = this.matrix;
    const px = k * arms[armP]!;
    const py = k * arms[armP + 1]!;
    const pz = k * arms[armP + 2]!;
    const qx = arms[armQ]!;
    const qy = arms[armQ + 1]!;
    const qz = arms[armQ + 2]!;
    const xx = px * qx;
    const yy = py * qy;
    const zz = pz * qz;
    let at = row * size + column;
    entries[at]! += k;
    entries[at + 4]! += k * qz;
    entries[at + 5]! -= k * qy;
    at += size;
    entries[at + 1]! += k;
    entries[at + 3]! -= k * qz;
    entries[at + 5]! += k * qx;
    at += size;
    entries[at + 2]! += k;
    entries[at + 3]! += k * qy;
    entries[at + 4]! -= k * qx;
    at += size;
    entries[at + 1]! -= pz;
    entries[at + 2]! += py;
    entries[at + 3]! += yy + zz;
    entries[at + 4]! -= qx * py;
    entries[at + 5]! -= qx * pz;
    at += size;
    entries[at]! += pz;
    entries[at + 2]! -= px;
    entries[at + 3]! -= qy * px;
    entries[at + 4]! += xx + zz;
    entries[at + 5]! -= qy * pz;
    at += size;
    entries[at]! -= py;
    entries[at + 1]! += px;
    entries[at + 3]! -= qz * px;
    entries[at + 4]! -= qz * py;
    entries[at + 5]! += xx + yy;
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
    const rx = arms[arm]!;
    const ry = arms[arm + 1]!;
    const rz = arms[arm + 2]!;
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

/** Which bodies any point touches, and for each body those that a point joins it to, in rising order. */
function meetings(
  count: number,
  stores: readonly PointStore[],
): { readonly touched: Uint8Array; readonly neighbours: readonly (readonly number[])[] } {
  const touched = new Uint8Array(count);
  const joined = new Uint8Array(count * count);
  for (const store of stores)
    for (let i = 0; i < store.count; i += 1) {
      const a = store.bodies[2 * i]!;
      const b = store.bodies[2 * i + 1]!;
      if (a !== GROUND) touched[a] = 1;
      if (b !== GROUND) touched[b] = 1;
      if (a !== GROUND && b !== GROUND && a !== b) joined[a * count + b] = joined[b * count + a] = 1;
    }
  const others = [...touched.keys()];
  return { touched, neighbours: others.map((a) => others.filter((b) => joined[a * count + b] === 1)) };
}
