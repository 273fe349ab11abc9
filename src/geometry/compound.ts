import type { ConvexPiece } from './convex.js';
import { combineMass } from './mass.js';
import { makeSolid, type Solid } from './solid.js';

/** A solid that is one of several in a compound, with the weight by which it counts, in any unit. */
export interface Member {
  readonly id: string;
  readonly solid: Solid;
  readonly weight: number;
}

/** The name that a face of a member has in the compound. */
export const memberFace = (member: string, face: string): string => `${member}/${face}`;

/**
 * Solids that touch or stand near one another as one. Every face is kept under the name `<member>/<face>`, also where
 * another member covers it: who needs to know what is free asks the pieces. Centre and inertia are those of members of
 * different density; the inertia is per unit of mean density. `extra` pieces are in the way and weigh nothing.
 */
export function compound(members: readonly Member[], extra: readonly ConvexPiece[] = []): Solid {
  const weighed = combineMass(
    members.map(({ solid, weight }) => ({
      volume: weight,
      centre: solid.centre,
      inertia: scaled(solid.inertia, weight / solid.volume),
    })),
  );
  const volume = members.reduce((sum, { solid }) => sum + solid.volume, 0);
  return makeSolid(
    [...members.flatMap(({ solid }) => solid.pieces), ...extra],
    members.flatMap(({ id, solid }) => solid.faces.map((face) => ({ ...face, id: memberFace(id, face.id) }))),
    { volume, centre: weighed.centre, inertia: scaled(weighed.inertia, volume / weighed.volume) },
  );
}

const scaled = (inertia: Solid['inertia'], factor: number): Solid['inertia'] =>
  inertia.map((cell) => cell * factor) as unknown as Solid['inertia'];
