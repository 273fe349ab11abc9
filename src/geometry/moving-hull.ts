import type { RoundedHull } from './rounded-hull.js';

/** A point or corner of a box that changes. */
type Corner = [number, number, number];

/** A rounded hull that is put to one place after the other, its numbers in the same room each time: arms ask for it often. */
export class MovingHull implements RoundedHull {
  readonly coordinates: Float64Array;
  readonly bounds: { readonly low: Corner; readonly high: Corner } = {
    low: [NaN, NaN, NaN],
    high: [NaN, NaN, NaN],
  };

  constructor(
    points: number,
    readonly radius: number,
  ) {
    this.coordinates = new Float64Array(3 * points);
  }

  /** To points, flat, in a frame: its origin, then its turn row by row. */
  place(points: Float64Array, frame: Float64Array): void {
    const { coordinates } = this;
    for (let i = 0; i < points.length; i += 3) {
      const px = points[i]!;
      const py = points[i + 1]!;
      const pz = points[i + 2]!;
      coordinates[i] = frame[0]! + frame[3]! * px + frame[4]! * py + frame[5]! * pz;
      coordinates[i + 1] = frame[1]! + frame[6]! * px + frame[7]! * py + frame[8]! * pz;
      coordinates[i + 2] = frame[2]! + frame[9]! * px + frame[10]! * py + frame[11]! * pz;
    }
    this.bound();
  }

  /** The line between two of some points, flat. */
  span(points: Float64Array, from: number, to: number): void {
    const { coordinates } = this;
    for (let axis = 0; axis < 3; axis += 1) {
      coordinates[axis] = points[3 * from + axis]!;
      coordinates[3 + axis] = points[3 * to + axis]!;
    }
    this.bound();
  }

  private bound(): void {
    const { coordinates, radius, bounds } = this;
    for (let axis = 0; axis < 3; axis += 1) {
      let low = Infinity;
      let high = -Infinity;
      for (let i = axis; i < coordinates.length; i += 3) {
        low = Math.min(low, coordinates[i]!);
        high = Math.max(high, coordinates[i]!);
      }
      bounds.low[axis] = low - radius;
      bounds.high[axis] = high + radius;
    }
  }
}
