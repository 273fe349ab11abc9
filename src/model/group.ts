import { snap } from '../base/order.js';
import { memberFace } from '../geometry/compound.js';
import { pointSolidDistance } from '../geometry/distance.js';
import { compose } from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { along, subtract, type Vec3 } from '../geometry/vector.js';
import { memberOfFace } from './member-faces.js';
import { partThickness, shapeSolid } from './part-geometry.js';
import type { Contact, PlacedPart, Scene } from './scene.js';
import type { GroupMember, MemberPair, Shape } from './shape.js';

/** Points nearer to one member than to another by no more than this, mm, are as near to both. */
const AS_NEAR = 1e-3;

const membersOf = (shape: Shape): readonly GroupMember[] => (shape.kind === 'group' ? shape.members : []);

/** Solids of members where they are, found once for each placed part. */
const SOLIDS = new WeakMap<PlacedPart, ReadonlyMap<string, Solid>>();

/** The solids of the members of a placed group, each by itself, with faces named as in the group. */
function memberSolids(placed: PlacedPart): ReadonlyMap<string, Solid> {
  let solids = SOLIDS.get(placed);
  if (!solids) {
    solids = new Map(
      membersOf(placed.part.shape).map(({ id, shape, pose }) => {
        const solid = placeSolid(shapeSolid(shape), compose(placed.pose, pose));
        const faces = solid.faces.map((face) => ({ ...face, id: memberFace(id, face.id) }));
        return [id, { ...solid, faces }];
      }),
    );
    SOLIDS.set(placed, solids);
  }
  return solids;
}

/** A placed group as if it were the one member alone; the part itself where no member is named. */
export function asMember(placed: PlacedPart, member: string | undefined): PlacedPart {
  const own = membersOf(placed.part.shape).find(({ id }) => id === member);
  if (own === undefined) return placed;
  return { ...placed, solid: memberSolids(placed).get(own.id)!, thickness: partThickness(own.shape) };
}

/** Shares of a run at which it is seen which member it lies on: one that only crosses it is off most of them. */
const SHARES = [0, 0.25, 0.5, 0.75, 1] as const;

/** Thickness of a part where a run from one point to another is welded to it, mm: of a group that of the member along it. */
export const thicknessAlong = (placed: PlacedPart, from: Vec3, to: Vec3): number =>
  placed.part.shape.kind !== 'group'
    ? placed.thickness
    : thicknessAt(placed, ...SHARES.map((share) => along(from, subtract(to, from), share)));

/** The same under a tack: `at` is its middle. */
export function thicknessUnder(
  placed: PlacedPart,
  { at, along: way, length }: { readonly at: Vec3; readonly along: Vec3; readonly length: number },
): number {
  return thicknessAlong(placed, along(at, way, -length / 2), along(at, way, length / 2));
}

/**
 * Thickness of a part at points of the cell, mm: of a group that of the member to which the farthest of them is nearest,
 * the thinner of two that are as near.
 */
export const thicknessAt = (placed: PlacedPart, ...points: readonly Vec3[]): number =>
  placed.part.shape.kind !== 'group' ? placed.thickness : ranked(placed, points)[0]!.thickness;

/** Number of the member to which the farthest of these points is nearest, of those as near the thinnest; 0 of what is no group. */
export const memberNear = (placed: PlacedPart, ...points: readonly Vec3[]): number =>
  placed.part.shape.kind !== 'group' ? 0 : ranked(placed, points)[0]!.member;

/** Members by how far they are from points of the cell. */
function ranked(placed: PlacedPart, points: readonly Vec3[]) {
  const solids = memberSolids(placed);
  return membersOf(placed.part.shape)
    .map(({ id, shape }, member) => ({
      member,
      thickness: partThickness(shape),
      far: snap(Math.max(...points.map((at) => pointSolidDistance(at, solids.get(id)!))), AS_NEAR),
    }))
    .sort((p, q) => p.far - q.far || p.thickness - q.thickness);
}

/** Origin of a part, or of a member of it, in the cell: from there tolerances are measured. */
export function originOf(placed: PlacedPart, member: string | undefined): Vec3 {
  const own = membersOf(placed.part.shape).find(({ id }) => id === member);
  return own === undefined ? placed.pose.at : compose(placed.pose, own.pose).at;
}

/** Where two parts meet, taken apart by which members meet; one entry with no member where neither is a group. */
export function memberContacts(
  { parts }: Pick<Scene, 'parts'>,
  contact: Contact,
): readonly { readonly contact: Contact; readonly members: MemberPair }[] {
  const [a, b] = [parts[contact.a]!.part.shape, parts[contact.b]!.part.shape];
  if (a.kind !== 'group' && b.kind !== 'group') return [{ contact, members: [undefined, undefined] }];
  const pairs = new Map<string, { readonly members: MemberPair; readonly patches: Contact['patches'] }>();
  for (const patch of contact.patches) {
    const members: MemberPair = [memberOfFace(a, patch.faceA), memberOfFace(b, patch.faceB)];
    const key = JSON.stringify(members);
    pairs.set(key, { members, patches: [...(pairs.get(key)?.patches ?? []), patch] });
  }
  return [...pairs.values()].map(({ members, patches }) => ({ members, contact: { ...contact, patches } }));
}
