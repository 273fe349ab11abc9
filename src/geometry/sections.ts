import type { Point2 } from './outline.js';
import type { Loop } from './prism.js';
import { prism } from './prism.js';
import { facetCount, roundHole, roundOutline } from './round.js';
import { circleSection, combineSections, cutOut, polygonSection } from './section.js';
import type { Solid } from './solid.js';

/** The corners of a section with, before each side, the name of the face it becomes. */
type NamedCorner = readonly [name: string, u: number, v: number];

const loopOf = (corners: readonly NamedCorner[]): Loop => ({
  corners: corners.map(([, u, v]): Point2 => [u, v]),
  side: (i) => corners[i]![0],
  curved: false,
});

const rectangle = (u0: number, v0: number, u1: number, v1: number): readonly Point2[] => [
  [u0, v0],
  [u1, v0],
  [u1, v1],
  [u0, v1],
];

/** A section of rectangles, drawn out along x. */
function rolled(
  length: number,
  corners: readonly NamedCorner[],
  parts: readonly (readonly Point2[])[],
): Solid {
  const section = combineSections(parts.map(polygonSection));
  return prism({ axis: 'x', length, outline: loopOf(corners), holes: [], parts, section });
}

/** A fault of sizes that no schema lets through. */
function demand(holds: boolean, what: string): void {
  if (!holds) throw new RangeError(what);
}

/**
 * An angle with sharp corners: length along x, one leg of `width` along y at the -z side, the other of `height` along
 * z at the -y side, both of the given thickness; its bounding box is centred on the origin. Faces: `+x`, `-x` ends;
 * `-z`, `-y` the outsides of the legs, `inner-z`, `inner-y` their insides, `toe+y`, `toe+z` their tips.
 */
export function angle(length: number, width: number, height: number, thickness: number): Solid {
  demand(thickness < Math.min(width, height), `a thickness of ${thickness} mm fills the angle`);
  const [y, z] = [width / 2, height / 2];
  const [inY, inZ] = [-y + thickness, -z + thickness];
  return rolled(
    length,
    [
      ['-z', -y, -z],
      ['toe+y', y, -z],
      ['inner-z', y, inZ],
      ['inner-y', inY, inZ],
      ['toe+z', inY, z],
      ['-y', -y, z],
    ],
    [rectangle(-y, -z, y, inZ), rectangle(-y, inZ, inY, z)],
  );
}

/**
 * A channel with parallel flanges and sharp corners: length along x, height along z, flanges of `width` along y, open
 * to +y; bounding box centred. Faces: ends; `-y` the back of the web, `inner-y` its inside; `+z`, `-z` the outsides of
 * the flanges, `inner+z`, `inner-z` their insides, `toe+z`, `toe-z` their tips, which look along +y.
 */
export function channel(length: number, height: number, width: number, web: number, flange: number): Solid {
  demand(2 * flange < height && web < width, `walls of ${web} and ${flange} mm fill the channel`);
  const [y, z] = [width / 2, height / 2];
  const [inY, inZ] = [-y + web, z - flange];
  return rolled(
    length,
    [
      ['-z', -y, -z],
      ['toe-z', y, -z],
      ['inner-z', y, -inZ],
      ['inner-y', inY, -inZ],
      ['inner+z', inY, inZ],
      ['toe+z', y, inZ],
      ['+z', y, z],
      ['-y', -y, z],
    ],
    [rectangle(-y, -z, y, -inZ), rectangle(-y, -inZ, inY, inZ), rectangle(-y, inZ, y, z)],
  );
}

/**
 * An I-section with parallel flanges and sharp corners: length along x, height along z, flanges of `width` along y,
 * web in the middle; centred. Faces: ends; `+z`, `-z` the outsides of the flanges; `web+y`, `web-y` the sides of the
 * web; `inner+z+y`, `inner+z-y`, `inner-z+y`, `inner-z-y` the insides of the flanges on either side of the web;
 * `toe+z+y` to `toe-z-y` the tips of the flanges.
 */
export function iSection(length: number, height: number, width: number, web: number, flange: number): Solid {
  demand(2 * flange < height && web < width, `walls of ${web} and ${flange} mm fill the section`);
  const [y, z] = [width / 2, height / 2];
  const [inY, inZ] = [web / 2, z - flange];
  return rolled(
    length,
    [
      ['-z', -y, -z],
      ['toe-z+y', y, -z],
      ['inner-z+y', y, -inZ],
      ['web+y', inY, -inZ],
      ['inner+z+y', inY, inZ],
      ['toe+z+y', y, inZ],
      ['+z', y, z],
      ['toe+z-y', -y, z],
      ['inner+z-y', -y, inZ],
      ['web-y', -inY, inZ],
      ['inner-z-y', -inY, -inZ],
      ['toe-z-y', -y, -inZ],
    ],
    [rectangle(-y, -z, y, -inZ), rectangle(-inY, -inZ, inY, inZ), rectangle(-y, inZ, y, z)],
  );
}

const facets = (corners: readonly Point2[], name: string): Loop => ({
  corners,
  side: (i) => `${name}-${i + 1}`,
  curved: true,
});

/**
 * A round bar along x, centred. Its facets `round-1` (towards +y), `round-2`, ... touch the circle from outside; see
 * `facetCount` for how near they are. Faces: ends `+x`, `-x` and the facets.
 */
export function roundBar(length: number, diameter: number): Solid {
  const radius = diameter / 2;
  const corners = roundOutline(radius, facetCount(radius));
  return prism({
    axis: 'x',
    length,
    outline: facets(corners, 'round'),
    holes: [],
    parts: [corners],
    section: circleSection(radius),
  });
}

/**
 * A round hollow section along x, centred. Outside facets `round-1`, ... touch the outer circle from outside; inside
 * facets `bore-1`, ... have their corners on the inner circle, so that the wall is nowhere taken for thinner than it is.
 */
export function roundHollowSection(length: number, diameter: number, wall: number): Solid {
  demand(2 * wall < diameter, `a wall of ${wall} mm fills the section`);
  const radius = diameter / 2;
  const count = facetCount(radius);
  const [outer, inner] = [roundOutline(radius, count), roundHole(radius - wall, count)];
  const parts = outer.map((corner, i): readonly Point2[] => {
    const next = (i + 1) % count;
    return [corner, outer[next]!, inner[next]!, inner[i]!];
  });
  return prism({
    axis: 'x',
    length,
    outline: facets(outer, 'round'),
    holes: [facets(inner, 'bore')],
    parts,
    section: combineSections([circleSection(radius), cutOut(circleSection(radius - wall))]),
  });
}
