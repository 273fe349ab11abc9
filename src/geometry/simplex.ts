/** A tetrahedron flatter than this share of its size has no inside. */
const FLAT = 1e-12;

/**
 * A point, edge or triangle by its corners, and its point nearest to the origin; mm. It grows by one corner at a time and
 * keeps only those that carry the nearest point. All in plain numbers, since arms ask for it without end.
 */
export class Simplex {
  /** x, y, z of up to three corners, and of the one that is added. */
  private readonly corners = new Float64Array(12);
  private count = 0;
  /** The nearest point, and the square of its distance. */
  x = NaN;
  y = NaN;
  z = NaN;
  squared = NaN;
  /** The nearest point of the faces tried with a new corner, and which old corners carry it too; -1 for none. */
  private readonly best = new Float64Array(4);
  private first = -1;
  private second = -1;

  /** A single point. */
  start(x: number, y: number, z: number): void {
    this.setCorner(0, x, y, z);
    this.count = 1;
    this.setNearest(x, y, z, x * x + y * y + z * z);
  }

  /**
   * One more corner, given that the nearest point needs it: the old ones had their turn. All faces with the new corner are
   * tried, so a badly shaped simplex costs time, not truth. False, and nothing is changed, where nothing comes nearer.
   */
  add(x: number, y: number, z: number): boolean {
    const { count, best } = this;
    this.setCorner(count, x, y, z);
    if (count === 3 && this.holdsOrigin()) {
      this.setNearest(0, 0, 0, 0);
      return true;
    }
    best[3] = Infinity;
    this.offer(x, y, z, -1, -1);
    for (let i = 0; i < count; i += 1) {
      this.offerEdge(i);
      for (let j = i + 1; j < count; j += 1) this.offerTriangle(i, j);
    }
    if (best[3] >= this.squared) return false;
    this.setNearest(best[0]!, best[1]!, best[2]!, best[3]);
    this.keepCarriers(x, y, z);
    return true;
  }

  private setCorner(place: number, x: number, y: number, z: number): void {
    const { corners } = this;
    corners[3 * place] = x;
    corners[3 * place + 1] = y;
    corners[3 * place + 2] = z;
  }

  private setNearest(x: number, y: number, z: number, squared: number): void {
    this.x = x;
    this.y = y;
    this.z = z;
    this.squared = squared;
  }

  /** The new corner comes first, then those old ones, the first of two before the second, that carry the nearest point with it. */
  private keepCarriers(x: number, y: number, z: number): void {
    const { corners, first, second } = this;
    if (second >= 0)
      this.setCorner(2, corners[3 * second]!, corners[3 * second + 1]!, corners[3 * second + 2]!);
    if (first >= 0) this.setCorner(1, corners[3 * first]!, corners[3 * first + 1]!, corners[3 * first + 2]!);
    this.setCorner(0, x, y, z);
    this.count = second >= 0 ? 3 : first >= 0 ? 2 : 1;
  }

  private offer(x: number, y: number, z: number, first: number, second: number): void {
    const { best } = this;
    const squared = x * x + y * y + z * z;
    if (squared >= best[3]!) return;
    best[0] = x;
    best[1] = y;
    best[2] = z;
    best[3] = squared;
    this.first = first;
    this.second = second;
  }

  /** Foot of the origin on the line from the new corner to an old one, if it lies between them. */
  private offerEdge(i: number): void {
    const { corners, count } = this;
    const ax = corners[3 * count]!;
    const ay = corners[3 * count + 1]!;
    const az = corners[3 * count + 2]!;
    const sx = corners[3 * i]! - ax;
    const sy = corners[3 * i + 1]! - ay;
    const sz = corners[3 * i + 2]! - az;
    const t = -(ax * sx + ay * sy + az * sz) / (sx * sx + sy * sy + sz * sz);
    if (t > 0 && t < 1) this.offer(ax + sx * t, ay + sy * t, az + sz * t, i, -1);
  }

  /** Foot of the origin on the plane through the new corner and two old ones, if it lies inside the triangle. */
  private offerTriangle(i: number, j: number): void {
    const { corners, count } = this;
    const ax = corners[3 * count]!;
    const ay = corners[3 * count + 1]!;
    const az = corners[3 * count + 2]!;
    const bx = corners[3 * i]!;
    const by = corners[3 * i + 1]!;
    const bz = corners[3 * i + 2]!;
    const cx = corners[3 * j]!;
    const cy = corners[3 * j + 1]!;
    const cz = corners[3 * j + 2]!;
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const size = nx * nx + ny * ny + nz * nz;
    if (size === 0) return;
    const share = (nx * ax + ny * ay + nz * az) / size;
    const fx = nx * share;
    const fy = ny * share;
    const fz = nz * share;
    const px = ax - fx;
    const py = ay - fy;
    const pz = az - fz;
    const qx = bx - fx;
    const qy = by - fy;
    const qz = bz - fz;
    const rx = cx - fx;
    const ry = cy - fy;
    const rz = cz - fz;
    // The normal with the cross product of two corners, seen from the foot: positive where the foot is inside of that side.
    if (!(nx * (py * qz - pz * qy) + ny * (pz * qx - px * qz) + nz * (px * qy - py * qx) > 0)) return;
    if (!(nx * (qy * rz - qz * ry) + ny * (qz * rx - qx * rz) + nz * (qx * ry - qy * rx) > 0)) return;
    if (!(nx * (ry * pz - rz * py) + ny * (rz * px - rx * pz) + nz * (rx * py - ry * px) > 0)) return;
    this.offer(fx, fy, fz, i, j);
  }

  /** Whether the tetrahedron of three old corners and the new one has the origin inside. */
  private holdsOrigin(): boolean {
    return (
      this.sameSide(0, 1, 2, 3) &&
      this.sameSide(1, 2, 3, 0) &&
      this.sameSide(2, 3, 0, 1) &&
      this.sameSide(3, 0, 1, 2)
    );
  }

  /** Whether the origin and the corner `apex` lie on the same side of the others' plane; never for a flat tetrahedron. */
  private sameSide(i: number, j: number, k: number, apex: number): boolean {
    const { corners } = this;
    const ax = corners[3 * i]!;
    const ay = corners[3 * i + 1]!;
    const az = corners[3 * i + 2]!;
    const ux = corners[3 * j]! - ax;
    const uy = corners[3 * j + 1]! - ay;
    const uz = corners[3 * j + 2]! - az;
    const vx = corners[3 * k]! - ax;
    const vy = corners[3 * k + 1]! - ay;
    const vz = corners[3 * k + 2]! - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const tx = corners[3 * apex]! - ax;
    const ty = corners[3 * apex + 1]! - ay;
    const tz = corners[3 * apex + 2]! - az;
    const height = nx * tx + ny * ty + nz * tz;
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz) * Math.sqrt(tx * tx + ty * ty + tz * tz);
    if (Math.abs(height) <= FLAT * size) return false;
    const side = nx * ax + ny * ay + nz * az;
    return height > 0 ? side <= 0 : side >= 0;
  }
}
