import type { Solid } from '../geometry/solid.js';
import { along, type Vec3 } from '../geometry/vector.js';
import { memberNear } from '../model/group.js';
import { memberOfFace } from '../model/member-faces.js';
import type { PlacedPart, Scene } from '../model/scene.js';

/** What is one rigid body for statics: a part, or a member of a sub-assembly whose tacks are known. Cell frame. */
export interface Piece {
  readonly part: number;
  /** Number of the member; 0 of a part that is one body. */
  readonly member: number;
  readonly id: string;
  /** kg */
  readonly mass: number;
  readonly solid: Solid;
}

/** A force of a load: on which part, and on which member of it where that is known better than by its point. */
export interface PartForce {
  readonly part: number;
  readonly member?: number;
  /** N */
  readonly force: Vec3;
  /** mm */
  readonly at: Vec3;
}

/** The rigid bodies that a part is, by the numbers of its members. */
export function piecesOf({ parts, insides }: Scene, part: number): readonly Piece[] {
  const { part: own, mass, solid } = parts[part]!;
  const members = insides[part]?.members ?? [{ id: own.id, mass, solid }];
  return members.map((one, member) => ({ part, member, ...one }));
}

/** The member of a part that has a face; 0 where the part is one body. */
export function memberWith({ parts, insides }: Scene, part: number, face: string): number {
  const inside = insides[part];
  if (inside === undefined) return 0;
  const id = memberOfFace(parts[part]!.part.shape, face);
  return Math.max(
    0,
    inside.members.findIndex((member) => member.id === id),
  );
}

/** Members by points that were asked for, since states ask for the same ones again and again. */
const NEAR = new WeakMap<PlacedPart, Map<string, number>>();

/** The member of a part to which the farthest of these points is nearest; 0 where the part is one body. */
export function memberBy({ parts, insides }: Scene, part: number, ...points: readonly Vec3[]): number {
  if (insides[part] === undefined) return 0;
  const placed = parts[part]!;
  const known = NEAR.get(placed) ?? new Map<string, number>();
  NEAR.set(placed, known);
  const key = points.join(';');
  const member = known.get(key) ?? memberNear(placed, ...points);
  known.set(key, member);
  return member;
}

/** The member of a part on which a tack is. */
export const memberUnder = (
  scene: Scene,
  part: number,
  { at, along: way, length }: { readonly at: Vec3; readonly along: Vec3; readonly length: number },
): number => memberBy(scene, part, along(at, way, -length / 2), along(at, way, length / 2));

/** The members of a part that stand on the work table. */
const membersOnTable = (scene: Scene, part: number): ReadonlySet<number> =>
  new Set(scene.tableBearing[part]!.map(({ faceB }) => memberWith(scene, part, faceB)));

/** Which pieces of the parts in place stand on the work table, and which hang on them: so the finished tack-up is lifted out. */
export function hangingPieces(scene: Scene, inPlace: readonly number[]): readonly Piece[] {
  return inPlace.flatMap((part) => {
    const standing = membersOnTable(scene, part);
    return piecesOf(scene, part).filter(({ member }) => !standing.has(member));
  });
}
