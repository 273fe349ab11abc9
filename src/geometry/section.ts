import type { Inertia, Mass } from './mass.js';
import type { Point2 } from './outline.js';
import { signedArea, turnOf } from './outline.js';
import type { Vec3 } from './vector.js';

/** Area (mm2), centre of area (mm) and second moments about that centre (mm4) of a section. */
export interface Section {
  readonly area: number;
  readonly centre: Point2;
  /** Integral of u u, of v v and of u v over the area, u and v from the centre. */
  readonly uu: number;
  readonly vv: number;
  readonly uv: number;
}

/**
 * Section of a simple polygon, corners either way round: triangles from its first corner. The second moment of a
 * triangle of area A about the origin is A / 12 times (the sum over its corners of x x, plus 9 times that of its centre).
 */
export function polygonSection(corners: readonly Point2[]): Section {
  const sign = Math.sign(signedArea(corners));
  const parts: Section[] = [];
  for (let i = 1; i + 1 < corners.length; i += 1) {
    const [a, b, c] = [corners[0]!, corners[i]!, corners[i + 1]!];
    const area = (sign * turnOf(a, b, c)) / 2;
    const centre: Point2 = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3];
    const off = [a, b, c].map((p): Point2 => [p[0] - centre[0], p[1] - centre[1]]);
    const sum = (of: (p: Point2) => number): number =>
      (area / 12) * off.reduce((total, p) => total + of(p), 0);
    parts.push({
      area,
      centre,
      uu: sum((p) => p[0] * p[0]),
      vv: sum((p) => p[1] * p[1]),
      uv: sum((p) => p[0] * p[1]),
    });
  }
  return combineSections(parts);
}

/** Section of a full circle: both second moments are pi r^4 / 4. */
export function circleSection(radius: number, centre: Point2 = [0, 0]): Section {
  const area = Math.PI * radius ** 2;
  const second = (area * radius ** 2) / 4;
  return { area, centre, uu: second, vv: second, uv: 0 };
}

/** The same section as a hole, to be combined with what it is cut from. */
export const cutOut = ({ area, centre, uu, vv, uv }: Section): Section => ({
  area: -area,
  centre,
  uu: -uu,
  vv: -vv,
  uv: -uv,
});

/** A section made up of others, by the parallel-axis theorem. */
export function combineSections(parts: readonly Section[]): Section {
  const area = parts.reduce((sum, part) => sum + part.area, 0);
  const mean = (axis: 0 | 1): number =>
    parts.reduce((sum, part) => sum + part.area * part.centre[axis], 0) / area;
  const centre: Point2 = [mean(0), mean(1)];
  const about = (own: (part: Section) => number, i: 0 | 1, j: 0 | 1): number =>
    parts.reduce(
      (sum, part) =>
        sum + own(part) + part.area * (part.centre[i] - centre[i]) * (part.centre[j] - centre[j]),
      0,
    );
  return {
    area,
    centre,
    uu: about((part) => part.uu, 0, 0),
    vv: about((part) => part.vv, 1, 1),
    uv: about((part) => part.uv, 0, 1),
  };
}

/** The axis along which a section is drawn out. Section axes u, v are y, z of a prism along x and x, y along z. */
export type PrismAxis = 'x' | 'z';

/** A point of a prism from its section axes and the way along it. */
export const inPrism = (axis: PrismAxis, [u, v]: Point2, along: number): Vec3 =>
  axis === 'x' ? [along, u, v] : [u, v, along];

/** Mass of a section drawn out over a length, half of it to either side of the section's plane. */
export function prismMass(axis: PrismAxis, length: number, section: Section): Mass {
  const { area, centre, uu, vv, uv } = section;
  const slender = (area * length ** 3) / 12;
  const [aboutU, aboutV, aboutAxis] = [vv * length + slender, uu * length + slender, (uu + vv) * length];
  const mixed = uv === 0 ? 0 : -uv * length;
  const inertia: Inertia =
    axis === 'x'
      ? [aboutAxis, 0, 0, 0, aboutU, mixed, 0, mixed, aboutV]
      : [aboutU, mixed, 0, mixed, aboutV, 0, 0, 0, aboutAxis];
  return { volume: area * length, centre: inPrism(axis, centre, 0), inertia };
}
