import { inverse, place, type Pose } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Cell, TwoSidedStand } from './cell.js';

/** Where a part may lie before it is in place. */
export type StationName = 'infeed' | 'regrip' | 'two-sided';

export interface Station {
  /** Origin at the centre of its top, z up. */
  readonly pose: Pose;
  /** Of a part that lies there: as it comes at the infeed, located at the stops elsewhere; +- mm and degrees. */
  readonly accuracy: number;
  readonly turnAccuracy: number;
}

/** A station of a cell; undefined for a two-sided stand that the cell does not have. */
export function stationOf(cell: Cell, name: StationName): Station | undefined {
  switch (name) {
    case 'infeed':
      return cell.infeed;
    case 'regrip':
      return cell.regrip;
    case 'two-sided':
      return cell.twoSided;
  }
}

/** What a station is called in messages. */
export const STATION_WORDS: Readonly<Record<StationName, string>> = {
  infeed: 'the infeed',
  regrip: 'the regrip table',
  'two-sided': 'the two-sided stand',
};

const verticesAt = (pose: Pose, solid: Solid): readonly Vec3[] => {
  const seen = inverse(pose);
  return solid.pieces.flatMap(({ vertices }) => vertices.map((vertex) => place(seen, vertex)));
};

/** Vertices at this height over the lowest belong to the face that a part lies on, mm. */
const FOOT = 0.05;

/**
 * How a part lies over the opening of a two-sided stand, mm: `rim`, by how much its foot overlaps the rim on the side
 * where it overlaps less (negative when it falls short), and `over`, how far the part hangs over the outer edge.
 */
export function lyingOverOpening(
  { pose, size, opening }: TwoSidedStand,
  part: Solid,
): { readonly rim: number; readonly over: number } {
  const vertices = verticesAt(pose, part);
  const lowest = Math.min(...vertices.map(([, , z]) => z));
  const across = vertices.filter(([, , z]) => z <= lowest + FOOT).map(([, y]) => y);
  return {
    rim: Math.min(Math.max(...across), -Math.min(...across)) - opening[1] / 2,
    over: Math.max(
      ...vertices.map(([x, y]) => Math.max(Math.abs(x) - size[0] / 2, Math.abs(y) - size[1] / 2)),
    ),
  };
}

/** How far a solid reaches out of the opening of a two-sided stand, seen from above, mm; negative when it fits. */
export const outOfOpening = ({ pose, opening }: TwoSidedStand, solid: Solid): number =>
  Math.max(
    ...verticesAt(pose, solid).map(([x, y]) =>
      Math.max(Math.abs(x) - opening[0] / 2, Math.abs(y) - opening[1] / 2),
    ),
  );
