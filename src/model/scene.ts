import { facePatches, type Patch } from '../geometry/patches.js';
import { convexOutline } from '../geometry/hull.js';
import { onLines } from '../geometry/line-contact.js';
import { shrinkPolygon } from '../geometry/polygon.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { negate, type Vec3 } from '../geometry/vector.js';
import { compose, place, rotate, type Pose } from '../geometry/pose.js';
import type { Cell } from './cell.js';
import { memberOfFace } from './member-faces.js';
import { partMass, partThickness, shapeSolid } from './part-geometry.js';
import { finalPose, keepOutSolids, tableSolid } from './placement.js';
import type { Settings } from './settings.js';
import type { MemberTack } from './shape.js';
import type { Part, Weldment } from './weldment.js';

/** A part where it will finally be, in the cell. */
export interface PlacedPart {
  readonly part: Part;
  readonly pose: Pose;
  readonly solid: Solid;
  /** The same solid in the part's own frame. */
  readonly own: Solid;
  /** kg */
  readonly mass: number;
  /** mm, as tack rules and magnets count it. */
  readonly thickness: number;
}

/** Where two parts meet in their final place; `a` is the lower index. */
export interface Contact {
  readonly a: number;
  readonly b: number;
  /** Opposed faces within the fit-up gap: the parts may be joined here. Normals point from a into b. */
  readonly patches: readonly Patch[];
  /** The patches that really touch, kept off the edges: here force may pass. */
  readonly bearing: readonly BearingPatch[];
}

/** A member of a sub-assembly where it is. */
export interface PlacedMember {
  readonly id: string;
  /** kg */
  readonly mass: number;
  readonly solid: Solid;
}

/** What a sub-assembly is made of, where it will finally be. Members by their numbers. */
export interface Inside {
  readonly members: readonly PlacedMember[];
  readonly contacts: readonly Contact[];
  readonly tacks: readonly ({ readonly a: number; readonly b: number } & Omit<MemberTack, 'between'>)[];
}

/** A convex area through which one body presses on another. */
export interface BearingPatch {
  /** Names of the faces of the two that meet in it. */
  readonly faceA: string;
  readonly faceB: string;
  /** Unit, from a into b. */
  readonly normal: Vec3;
  /** Two where a round face bears along a line, one where two of them cross. */
  readonly corners: readonly Vec3[];
}

/** The weldment as it will stand in the cell: what geometry alone says, before any choice. */
export interface Scene {
  readonly weldment: Weldment;
  readonly cell: Cell;
  readonly parts: readonly PlacedPart[];
  /** Index of a part by its id. */
  readonly index: ReadonlyMap<string, number>;
  readonly contacts: readonly Contact[];
  /** Of each part that is a sub-assembly what is in it, once it is planned; else undefined: the part is one body. */
  readonly insides: readonly (Inside | undefined)[];
  /** Bearing of each part on the work table; normals point up, from the table into the part. */
  readonly tableBearing: readonly (readonly BearingPatch[])[];
  readonly table: Solid;
  readonly keepOuts: readonly Solid[];
}

/** Opposed faces nearer than this really touch, mm; what is farther apart is joined across a gap. */
export const TOUCHES = 0.05;

/** Patches between the same two faces, which lie in one plane. */
function byFaces(patches: readonly Patch[]): readonly (readonly Patch[])[] {
  const groups = new Map<string, Patch[]>();
  for (const patch of patches) {
    const key = `${patch.faceA}\n${patch.faceB}`;
    groups.set(key, [...(groups.get(key) ?? []), patch]);
  }
  return [...groups.values()];
}

/** Corners nearer to each other than this are one, mm. */
const SAME_CORNER = 1e-6;

/**
 * Where two solids really press on each other. Of several patches in one plane only the corners of their common hull
 * matter: a force anywhere between them is a sum of forces of the same direction at the corners.
 */
function bearingOf(
  a: Solid,
  b: Solid,
  patches: readonly Patch[],
  allowance: number,
): readonly BearingPatch[] {
  const lineOf = (solid: Solid, name: string) => solid.faces.find(({ id }) => id === name)!.curved;
  return byFaces(patches.filter((patch) => patch.gap <= TOUCHES))
    .map((group) => {
      const { normal, faceA, faceB, polygon } = group[0]!;
      const all = group.flatMap((patch) => patch.polygon);
      const outline = group.length === 1 ? polygon : convexOutline(all, normal, SAME_CORNER);
      const inside = shrinkPolygon(outline, normal, allowance);
      const lines = [lineOf(a, faceA), lineOf(b, faceB)].filter((line) => line !== undefined);
      return { faceA, faceB, normal, corners: onLines(inside, normal, lines) };
    })
    .filter((patch) => patch.corners.length > 0);
}

const pairKey = (a: string, b: string): string => [a, b].sort().join('\n');

/** What of a placed part is asked to find where it meets others. */
interface Touching {
  readonly part: Pick<Part, 'id' | 'shape'>;
  readonly solid: Solid;
}

/** What contacts call a part at one of its faces: a group by its member there. */
const nameAt = ({ part }: Touching, face: string): string => memberOfFace(part.shape, face) ?? part.id;

function contactsOf(
  weldment: Pick<Weldment, 'contacts' | 'fitUp'>,
  parts: readonly Touching[],
  allowance: number,
): Contact[] {
  const given = weldment.contacts?.map((pair) => pairKey(...pair));
  const contacts: Contact[] = [];
  for (let a = 0; a < parts.length; a += 1)
    for (let b = a + 1; b < parts.length; b += 1) {
      const met = facePatches(parts[a]!.solid, parts[b]!.solid, weldment.fitUp.gap);
      const isGiven = ({ faceA, faceB }: Patch): boolean =>
        given!.includes(pairKey(nameAt(parts[a]!, faceA), nameAt(parts[b]!, faceB)));
      const patches = given ? met.filter(isGiven) : met;
      if (patches.length > 0)
        contacts.push({
          a,
          b,
          patches,
          bearing: bearingOf(parts[a]!.solid, parts[b]!.solid, patches, allowance),
        });
    }
  return contacts;
}

/** What is in a sub-assembly that is planned. */
function insideOf({ fitUp }: Weldment, { part, pose }: PlacedPart, allowance: number): Inside | undefined {
  const { shape } = part;
  if (shape.kind !== 'group' || shape.tacks === undefined) return undefined;
  const members = shape.members.map((member) => ({
    ...{ id: member.id, mass: member.mass, part: member },
    solid: placeSolid(shapeSolid(member.shape), compose(pose, member.pose)),
  }));
  const numberOf = (id: string): number => members.findIndex((member) => member.id === id);
  const tacks = shape.tacks.map(({ between, at, along, ...size }) => ({
    ...{ a: numberOf(between[0]), b: numberOf(between[1]), at: place(pose, at) },
    ...{ along: rotate(pose.turn, along), ...size },
  }));
  return {
    members: members.map(({ id, mass, solid }) => ({ id, mass, solid })),
    contacts: contactsOf({ contacts: shape.contacts, fitUp }, members, allowance),
    tacks: tacks.filter(({ a, b }) => a >= 0 && b >= 0),
  };
}

/** Places the parts and finds where they meet. Given contacts restrict the pairs that are looked at. */
export function buildScene(weldment: Weldment, cell: Cell, settings: Settings): Scene {
  const allowance = settings.steel['edge-allowance'];
  const table = tableSolid(cell);
  const parts = weldment.parts.map((part) => {
    const pose = finalPose(cell, part);
    const own = shapeSolid(part.shape);
    return {
      part,
      pose,
      solid: placeSolid(own, pose),
      own,
      mass: partMass(part, own),
      thickness: partThickness(part.shape),
    };
  });
  return {
    weldment,
    cell,
    parts,
    index: new Map(parts.map(({ part }, i) => [part.id, i])),
    contacts: contactsOf(weldment, parts, allowance),
    insides: parts.map((placed) => insideOf(weldment, placed, allowance)),
    tableBearing: parts.map(({ solid }) =>
      bearingOf(table, solid, facePatches(table, solid, TOUCHES), allowance).filter(
        ({ normal }) => normal[2] > 0.99,
      ),
    ),
    table,
    keepOuts: keepOutSolids(cell),
  };
}

/** The normal of a bearing patch as seen from part `index`: pointing out of its neighbour, into it. */
export const normalInto = (contact: Contact, index: number, normal: Vec3): Vec3 =>
  contact.b === index ? normal : negate(normal);
