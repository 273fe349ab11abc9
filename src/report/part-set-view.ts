import type { JointSeam } from '../facts/joints.js';
import { inverse, place, rotate } from '../geometry/pose.js';
import { polygonCentroid, polygonContains } from '../geometry/polygon.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { dot, subtract, type Vec3 } from '../geometry/vector.js';
import type { BearingPatch, Contact, Scene } from '../model/scene.js';
import type { Theme } from './theme.js';

/** A joint as pictures draw it; seams in the weldment frame. */
export interface DrawnJoint {
  readonly id: string;
  readonly a: number;
  readonly b: number;
  readonly type: string;
  readonly leg: number;
  readonly seams: readonly Pick<JointSeam, 'id' | 'from' | 'to'>[];
}

/** A tack as pictures draw it, weldment frame. */
export interface DrawnTack {
  readonly order: number;
  readonly phase: 'securing' | 'completing';
  readonly from: Vec3;
  readonly to: Vec3;
}

/** What one picture of parts in place shows. */
export interface PartSetView {
  readonly title: string;
  readonly note?: string;
  /** Indices of the parts that are there. */
  readonly parts: readonly number[];
  /** The part that the picture is about; only its contacts and joints are drawn. Without it, all of them are. */
  readonly newcomer?: number;
  readonly joints: readonly DrawnJoint[];
  readonly tacks?: readonly DrawnTack[];
  /** Direction of travel of the newcomer into place, unit, weldment frame. */
  readonly approach?: Vec3;
  /** False where what surrounds the picture says what its colours and lines mean. */
  readonly legend?: false;
  /** Where the picture is for; a file of its own by default. */
  readonly theme?: Theme;
}

/** An area where two parts meet: bearing, or only near enough to be joined. Weldment frame. */
export interface DrawnPatch {
  readonly corners: readonly Vec3[];
  readonly bearing: boolean;
}

/** What a picture draws, in the weldment frame. */
export interface DrawnSet {
  readonly view: PartSetView;
  /** By part index. */
  readonly solids: ReadonlyMap<number, Solid>;
  readonly names: ReadonlyMap<number, string>;
  readonly patches: readonly DrawnPatch[];
  readonly joints: readonly DrawnJoint[];
}

const SAME = 1e-3;
/** Bearing areas are kept off the edges of what touches by about this, mm. */
const ALLOWANCE = 2;

/** Whether a bearing area lies in a patch or around it, and so shows that the patch really touches. */
const liesIn = ({ corners }: BearingPatch, polygon: readonly Vec3[], normal: Vec3): boolean =>
  Math.abs(dot(normal, subtract(corners[0]!, polygon[0]!))) < SAME &&
  (corners.some((corner) => polygonContains(polygon, normal, corner, SAME)) ||
    polygonContains(corners, normal, polygonCentroid(polygon), ALLOWANCE));

const patchesOf = ({ patches, bearing }: Contact, turned: (v: Vec3) => Vec3): DrawnPatch[] => [
  ...bearing.map(({ corners }) => ({ corners: corners.map(turned), bearing: true })),
  ...patches
    .filter(({ polygon, normal }) => !bearing.some((area) => liesIn(area, polygon, normal)))
    .map(({ polygon }) => ({ corners: polygon.map(turned), bearing: false })),
];

/** Puts together what a picture draws: the solids, and the contacts and joints between parts that are there. */
export function drawnSet(scene: Scene, view: PartSetView): DrawnSet {
  const back = inverse(scene.cell.weldmentPose);
  const there = new Set(view.parts);
  const shown = ({ a, b }: { readonly a: number; readonly b: number }): boolean =>
    there.has(a) &&
    there.has(b) &&
    (view.newcomer === undefined || a === view.newcomer || b === view.newcomer);
  return {
    view,
    solids: new Map(view.parts.map((part) => [part, placeSolid(scene.parts[part]!.solid, back)])),
    names: new Map(view.parts.map((part) => [part, scene.parts[part]!.part.id])),
    patches: scene.contacts
      .filter(shown)
      .flatMap((contact) => patchesOf(contact, (point) => place(back, point))),
    joints: view.joints.filter(shown),
  };
}

/** A direction of the cell as the weldment file sees it. */
export const inWeldment = (scene: Scene, direction: Vec3): Vec3 =>
  rotate(inverse(scene.cell.weldmentPose).turn, direction);
