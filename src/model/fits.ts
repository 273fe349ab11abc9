import { distance, dot, type Vec3 } from '../geometry/vector.js';
import type { Cut, Scatter } from '../mechanics/accuracy.js';
import { linearTolerance } from '../mechanics/iso-13920.js';
import { rotate } from '../geometry/pose.js';
import type { Gripper, Handler } from './cell.js';
import { originOf } from './group.js';
import { faceFrame, shapeSolid } from './part-geometry.js';
import { restPlanes } from './part-rests.js';
import type { FaceName } from './scalars.js';
import type { Contact, Scene } from './scene.js';
import type { Shape } from './shape.js';
import { stationOf, type Station, type StationName } from './stations.js';
import type { Settings } from './settings.js';

/** An area where two parts shall meet, as accuracy sees it. */
export interface FitPatch {
  readonly normal: Vec3;
  /** Longest way across it, mm. */
  readonly length: number;
  /** How much more it may open than it is designed to, mm. */
  readonly room: number;
}

/** Areas that were measured before, by contact; their `room` is what the fit-up leaves. */
const AREAS = new WeakMap<Contact, readonly (Omit<FitPatch, 'room'> & { readonly gap: number })[]>();

/** One area for two faces that meet, however many convex pieces they meet in. */
function areasOf(contact: Contact): readonly (Omit<FitPatch, 'room'> & { readonly gap: number })[] {
  let areas = AREAS.get(contact);
  if (!areas) {
    const byFaces = new Map<string, Contact['patches']>();
    for (const patch of contact.patches) {
      const key = `${patch.faceA}\n${patch.faceB}`;
      byFaces.set(key, [...(byFaces.get(key) ?? []), patch]);
    }
    areas = [...byFaces.values()].map((patches) => {
      const corners = patches.flatMap(({ polygon }) => polygon);
      return {
        normal: patches[0]!.normal,
        length: corners.reduce((most, from) => Math.max(most, ...corners.map((to) => distance(from, to))), 0),
        gap: Math.max(...patches.map(({ gap }) => gap)),
      };
    });
    AREAS.set(contact, areas);
  }
  return areas;
}

/** The areas where two parts meet; none when they do not. */
export function fitPatches(scene: Scene, p: number, q: number): readonly FitPatch[] {
  const [a, b] = p < q ? [p, q] : [q, p];
  const found = scene.contacts.find((contact) => contact.a === a && contact.b === b);
  return (found ? areasOf(found) : []).map(({ normal, length, gap }) => ({
    normal,
    length,
    room: Math.max(0, scene.weldment.fitUp.gap - Math.max(0, gap)),
  }));
}

/** How far off a part may sit along its contacts, mm: the tightest tolerance that mentions it, or the setting. */
export function inPlaneLimit({ weldment, parts, index }: Scene, settings: Settings, part: string): number {
  const limits = weldment.tolerances
    .filter(({ from, to }) => from === part || to === part)
    .map((tolerance) => {
      const [from, to] = ([tolerance.from, tolerance.to] as const).map((id, i) =>
        originOf(parts[index.get(id)!]!, tolerance.members?.[i]),
      );
      return linearTolerance(tolerance['iso-13920'], distance(from!, to!));
    });
  return limits.length > 0 ? Math.min(...limits) : settings.accuracy['in-plane'];
}

/** Normals, in the shape's own frame, of the faces that come from the mill. Nobody knows how a block or prism was made. */
function rolledNormals(shape: Shape): readonly Vec3[] {
  switch (shape.kind) {
    case 'plate':
    case 'cut-plate':
      return [[0, 0, 1]];
    case 'block':
    case 'prism':
      return [];
    case 'group':
      // Every face counts as cut: where its members are off their places, none of them is better than another.
      return [];
    default:
      // A section or bar lies along x and is cut at its ends alone.
      return shapeSolid(shape)
        .faces.map(({ normal }) => normal)
        .filter((normal) => Math.abs(dot(normal, [1, 0, 0])) < 1e-9);
  }
}

/** Rolled normals that were found before, so that each shape's are found once. */
const ROLLED = new WeakMap<Shape, readonly Vec3[]>();

/** What the cut edges of a part add: plates are cut all around, sections and bars at their ends. */
export const cutOf = ({ parts }: Scene, part: number): Cut => {
  const { pose, part: own } = parts[part]!;
  const rolled = ROLLED.get(own.shape) ?? rolledNormals(own.shape);
  ROLLED.set(own.shape, rolled);
  return { source: `cut of ${own.id}`, mm: own.cut, rolled: rolled.map((axis) => rotate(pose.turn, axis)) };
};

/** The normal of a face that a grip takes, in the final place of the part, cell frame. */
const gripNormal = ({ parts }: Scene, part: number, face: FaceName): Vec3 => {
  const { pose, part: own } = parts[part]!;
  return rotate(pose.turn, faceFrame(own.shape, face).normal);
};

/** The normal of what a part lies on, in its final place, cell frame. A RangeError for a rest that it does not have. */
function restNormal({ parts }: Scene, part: number, rest: FaceName): Vec3 {
  const { pose, part: own } = parts[part]!;
  const plane = restPlanes(own.shape).find(({ name }) => name === rest);
  if (plane === undefined) throw new RangeError(`a ${own.shape.kind} has no rest ${rest}`);
  return rotate(pose.turn, plane.normal);
}

/** What a pick adds: pads leave a part where it is square to them; the fingers of a jaw may shift it in any direction. */
const pickScatter = (scene: Scene, part: number, gripper: Gripper, face: FaceName): Scatter => ({
  source: `pick by ${gripper.id}`,
  mm: gripper.slip,
  ...(gripper.kind !== 'jaw' && { across: gripNormal(scene, part, face) }),
});

/** How a part came to the grip that brings it: all that its place depends on. */
export interface PartWay {
  /** Whose arm brings it. */
  readonly robot: Handler;
  /** The face it lies on at the infeed. */
  readonly rest: FaceName;
  /** Every grip in turn, with the face it takes. */
  readonly grips: readonly { readonly gripper: Gripper; readonly face: FaceName }[];
  /** Where and on which face it last lay, when it was located there. */
  readonly located: { readonly station: StationName; readonly face: FaceName } | undefined;
}

/**
 * Where a part may be off when it is brought: what the infeed leaves open in the plane it lies in, every pick in the
 * plane of its pads, and the arm every time it puts the part. After a datum visit only what the datum leaves open in
 * its plane, and the arm once.
 */
export function bringingScatter(scene: Scene, part: number, way: PartWay): readonly Scatter[] {
  const { infeed } = scene.cell;
  const arm: Scatter = { source: way.robot.id, mm: way.robot.accuracy };
  const lying = (source: string, station: Station, face: FaceName): Scatter => ({
    source,
    mm: station.accuracy,
    degrees: station.turnAccuracy,
    across: restNormal(scene, part, face),
  });
  const datum = way.located && stationOf(scene.cell, way.located.station);
  if (datum) return [lying(DATUM, datum, way.located!.face), arm];
  return [
    lying('infeed', infeed, way.rest),
    ...way.grips.flatMap(({ gripper, face }): Scatter[] => [pickScatter(scene, part, gripper, face), arm]),
  ];
}

/** Stops at which a part was located. */
const DATUM = 'datum of the stops';

/** With how many grips a part in place is counted, unless it had more. */
export const GRIPS_COUNTED = 3;

/** What is known of a part in place. */
export interface PartInPlace {
  readonly part: number;
  readonly first: boolean;
  /** The face it lay on at the infeed; null for one that a person set. */
  readonly rest: FaceName | null;
  readonly located: boolean;
  readonly seated: boolean;
  /** Grips that it had; counted as `GRIPS_COUNTED` at least. */
  readonly grips: number;
}

/**
 * Where a part in place may be off. Conservative, so that it does not depend on the grips that it had: as many as a
 * part may have, each by the least accurate arm and in every direction with the slip of the worst gripper; a seated one may have moved by all that
 * seating closes. One that a person set is where the person measured it, within what the weldment file says.
 */
export function placeScatter(scene: Scene, other: PartInPlace): readonly Scatter[] {
  const { handlers, grippers, infeed, regrip, twoSided, table } = scene.cell;
  if (other.first) return [{ source: 'first-part datum', mm: table.firstPartAccuracy }];
  if (other.rest === null)
    return [{ source: 'set by hand', mm: scene.parts[other.part]!.part.manual?.within ?? 0 }];
  const worst = handlers.reduce((a, b) => (b.accuracy > a.accuracy ? b : a));
  const arm: Scatter = { source: worst.id, mm: worst.accuracy };
  const slip: Scatter = { source: 'pick', mm: Math.max(0, ...grippers.map((gripper) => gripper.slip)) };
  const travels = handlers.flatMap(({ seating: able }) => (able ? [able.travel] : []));
  const seating: Scatter[] =
    other.seated && travels.length > 0 ? [{ source: 'seating', mm: Math.max(...travels) }] : [];
  if (other.located) {
    const stops = [regrip, ...(twoSided ? [twoSided] : [])];
    const mm = Math.max(...stops.map(({ accuracy }) => accuracy));
    const degrees = Math.max(...stops.map(({ turnAccuracy }) => turnAccuracy));
    return [{ source: DATUM, mm, degrees }, arm, ...seating];
  }
  const grips = Array.from({ length: Math.max(GRIPS_COUNTED, other.grips) }, () => [slip, arm]);
  return [
    {
      source: 'infeed',
      mm: infeed.accuracy,
      degrees: infeed.turnAccuracy,
      across: restNormal(scene, other.part, other.rest),
    },
    ...grips.flat(),
    ...seating,
  ];
}
