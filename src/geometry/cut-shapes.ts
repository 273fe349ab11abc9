import { convexParts } from './decompose.js';
import type { Point2 } from './outline.js';
import type { Loop } from './prism.js';
import { prism, sideNames } from './prism.js';
import { facetCount, roundHole, roundOutline } from './round.js';
import type { Section } from './section.js';
import { circleSection, combineSections, cutOut, polygonSection } from './section.js';
import type { Solid } from './solid.js';

/** A hole through a plate: round, or of any simple polygon. Coordinates in the plate's frame, mm. */
export type Hole =
  { readonly at: Point2; readonly diameter: number } | { readonly outline: readonly Point2[] };

const isRound = (hole: Hole): hole is Extract<Hole, { diameter: number }> => 'diameter' in hole;

function holeLoop(hole: Hole, number: number): Loop {
  const side = (i: number): string => `hole-${number}-${i + 1}`;
  if (!isRound(hole)) return { corners: hole.outline, side, curved: false };
  const radius = hole.diameter / 2;
  return { corners: roundHole(radius, facetCount(radius), hole.at), side, curved: true };
}

const holeSection = (hole: Hole): Section =>
  isRound(hole) ? circleSection(hole.diameter / 2, hole.at) : polygonSection(hole.outline);

/** A polygon that holds all of a hole, to see whether it is inside an outline. */
export const roundTheHole = (hole: Hole): readonly Point2[] =>
  isRound(hole) ? roundOutline(hole.diameter / 2, facetCount(hole.diameter / 2), hole.at) : hole.outline;

/**
 * A plate of any outline with holes: outline in x and y, thickness along z, half of it to either side of the origin.
 * Faces: `+z`, `-z`; the sides as `sideNames` has them; `hole-1-1`, `hole-1-2`, ... the sides of the first hole. The
 * corners of a round hole lie on its circle. Throws a RangeError for loops that cross, which a checked file cannot have.
 */
export function cutPlate(outline: readonly Point2[], holes: readonly Hole[], thickness: number): Solid {
  const loops = holes.map((hole, i) => holeLoop(hole, i + 1));
  return prism({
    axis: 'z',
    length: thickness,
    outline: { corners: outline, side: sideNames('z', outline), curved: false },
    holes: loops,
    parts: convexParts(
      outline,
      loops.map(({ corners }) => corners),
    ),
    section: combineSections([polygonSection(outline), ...holes.map((hole) => cutOut(holeSection(hole)))]),
  });
}

/** A prism along x with an outline in y and z, half its length to either side of the origin; faces as of a plate. */
export const polygonPrism = (length: number, outline: readonly Point2[]): Solid =>
  prism({
    axis: 'x',
    length,
    outline: { corners: outline, side: sideNames('x', outline), curved: false },
    holes: [],
    parts: convexParts(outline),
    section: polygonSection(outline),
  });
