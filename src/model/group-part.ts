import { memberFace } from '../geometry/compound.js';
import { boundsAround } from '../geometry/bounds.js';
import { compose, inverse, NO_TURN, rotate, translate, type Pose } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { add, dot, scale, type Vec3 } from '../geometry/vector.js';
import type { Material } from './material.js';
import { partMass, shapeSolid } from './part-geometry.js';
import { restPose } from './part-rests.js';
import type { Shape } from './shape.js';
import { MEMBERS_WITHIN, type LyingSubAssembly, type SubAssembly } from './sub-assembly.js';
import type { GivenGrip, Part, Weldment } from './weldment.js';

/** Directions nearer than this are one: cosine. */
const SAME = 1 - 1e-9;

/** The parts of a group in the order of the weldment; a RangeError for one that it does not have. */
function partsOf({ parts }: Weldment, group: SubAssembly): readonly Part[] {
  const own = parts.filter(({ id }) => group.parts.includes(id));
  if (group.parts.length === 0 || !group.parts.every((id) => own.some((part) => part.id === id)))
    throw new RangeError(`the group ${group.name} names parts that are not there`);
  return own;
}

/** Where the frame of a group sits in the weldment: the middle of the box around its parts, not turned. */
function originOfGroup(parts: readonly Part[]): Vec3 {
  const { low, high } = boundsAround(
    parts.map(({ shape, pose }) => placeSolid(shapeSolid(shape), pose).bounds),
  );
  return scale(add(low, high), 1 / 2);
}

/** Pose of the frame of a group in the weldment. */
export const groupPose = (weldment: Weldment, group: SubAssembly): Pose => ({
  at: originOfGroup(partsOf(weldment, group)),
  turn: NO_TURN,
});

/** What the plan of a sub-assembly leaves of tacks between its parts, in the frame of its shape. */
export type GroupMetal = Pick<Extract<Shape, { kind: 'group' }>, 'beads' | 'tacks'>;

/** Of a sub-assembly that is not planned. */
const NOT_PLANNED: GroupMetal = { beads: [] };

/** The parts of a sub-assembly as one shape, with the tacks between them. */
export function groupShape(
  weldment: Weldment,
  group: SubAssembly,
  metal: GroupMetal = NOT_PLANNED,
): Extract<Shape, { kind: 'group' }> {
  const parts = partsOf(weldment, group);
  const away = scale(originOfGroup(parts), -1);
  const members = parts.map((part) => ({
    ...{ id: part.id, shape: part.shape, pose: translate(part.pose, away) },
    mass: partMass(part, shapeSolid(part.shape)),
  }));
  const contacts = weldment.contacts?.filter((pair) => pair.every((id) => group.parts.includes(id)));
  return { kind: 'group', members, ...metal, ...(contacts && { contacts }) };
}

/**
 * From the frame of the weldment to that of the weldment of a group, where its parts lie on its rest. A RangeError for a
 * rest that it does not have.
 */
export function groupFrame(weldment: Weldment, group: LyingSubAssembly): Pose {
  const lying = restPose(groupShape(weldment, group), group.rest);
  if (lying === undefined) throw new RangeError(`the group ${group.name} has no rest ${group.rest}`);
  return compose(lying, inverse(groupPose(weldment, group)));
}

/** What tacks on a steel carry by the code grows with this, MPa; what has no strength to speak of is the weakest. */
const worth = ({ steel }: Material): number =>
  steel === undefined ? 0 : steel.tensileStrength / steel.correlationFactor;

/** Only grips that are given are considered as soon as one part gives any: nobody said that others are safe on it. */
function givenGrips(parts: readonly Part[]): readonly GivenGrip[] | undefined {
  const given = parts.flatMap(({ id, grips }) =>
    (grips ?? []).map((grip) => ({ ...grip, face: memberFace(id, grip.face) })),
  );
  return given.length > 0 ? given : undefined;
}

/** Mass in kg where it is not that of the shape at the density of the material. */
function givenMass(parts: readonly Part[], material: Material): number | undefined {
  const derived = parts.every(
    (part) => part.massGiven === undefined && part.material.density === material.density,
  );
  if (derived) return undefined;
  return parts.reduce((sum, part) => sum + partMass(part, shapeSolid(part.shape)), 0);
}

/**
 * A sub-assembly as one part of the weldment. On the safe side: its material is the weakest of its parts, and each of its edges may
 * be off by the worst cut among them and by how far they may be off their places in it.
 */
export function groupPart(weldment: Weldment, group: SubAssembly, metal: GroupMetal = NOT_PLANNED): Part {
  const parts = partsOf(weldment, group);
  const material = parts.map((part) => part.material).reduce((a, b) => (worth(b) < worth(a) ? b : a));
  const ways = parts.flatMap(({ approaches }) => approaches);
  return {
    id: group.name,
    shape: groupShape(weldment, group, metal),
    pose: groupPose(weldment, group),
    material,
    massGiven: givenMass(parts, material),
    cut: Math.max(...parts.map(({ cut }) => cut)) + (group.within ?? MEMBERS_WITHIN),
    rest: group.rest,
    grips: givenGrips(parts),
    approaches: ways.filter((way, i) => !ways.slice(0, i).some((known) => dot(known, way) > SAME)),
  };
}

/** A part of a group where it is in the weldment of that group. */
export const partInGroup = (part: Part, frame: Pose): Part => ({
  ...part,
  pose: compose(frame, part.pose),
  approaches: part.approaches.map((way) => rotate(frame.turn, way)),
});
