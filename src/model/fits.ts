import { distance, type Vec3 } from '../geometry/vector.js';
import type { Cut, Scatter } from '../mechanics/accuracy.js';
import { linearTolerance } from '../mechanics/iso-13920.js';
import { rotate } from '../geometry/pose.js';
import type { Gripper } from './cell.js';
import { faceFrame } from './part-geometry.js';
import type { OuterFace } from './scalars.js';
import type { Scene } from './scene.js';
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

/** The areas where two parts meet; none when they do not. */
export function fitPatches(scene: Scene, p: number, q: number): readonly FitPatch[] {
  const [a, b] = p < q ? [p, q] : [q, p];
  const patches = scene.contacts.find((contact) => contact.a === a && contact.b === b)?.patches ?? [];
  return patches.map(({ normal, gap, polygon }) => ({
    normal,
    length: Math.max(...polygon.flatMap((from) => polygon.map((to) => distance(from, to)))),
    room: Math.max(0, scene.weldment.fitUp.gap - Math.max(0, gap)),
  }));
}

/** How far off a part may sit along its contacts, mm: the tightest tolerance that mentions it, or the setting. */
export function inPlaneLimit({ weldment, parts, index }: Scene, settings: Settings, part: string): number {
  const limits = weldment.tolerances
    .filter(({ from, to }) => from === part || to === part)
    .map((tolerance) => {
      const [from, to] = [tolerance.from, tolerance.to].map((id) => parts[index.get(id)!]!.pose.at);
      return linearTolerance(tolerance['iso-13920'], distance(from!, to!));
    });
  return limits.length > 0 ? Math.min(...limits) : settings.accuracy['in-plane'];
}

/** Axes of the shape's own frame along which its faces come from the mill: plates are cut all around, sections at their ends. */
const ROLLED: Readonly<Record<string, readonly Vec3[]>> = {
  plate: [[0, 0, 1]],
  'rectangular-hollow-section': [
    [0, 1, 0],
    [0, 0, 1],
  ],
};

/** What the cut edges of a part add. */
export const cutOf = ({ parts }: Scene, part: number): Cut => {
  const { pose, part: own } = parts[part]!;
  const rolled = (ROLLED[own.shape.kind] ?? []).map((axis) => rotate(pose.turn, axis));
  return { source: `cut of ${own.id}`, mm: own.cut, rolled };
};

/** The normal of a face of a part in its final place, cell frame. */
const finalNormal = ({ parts }: Scene, part: number, face: OuterFace): Vec3 => {
  const { pose, part: own } = parts[part]!;
  return rotate(pose.turn, faceFrame(own.shape, face).normal);
};

/** How a part came to the grip that brings it: all that its place depends on. */
export interface PartWay {
  /** The face it lies on at the infeed. */
  readonly rest: OuterFace;
  /** Every grip in turn, with the face it takes. */
  readonly grips: readonly { readonly gripper: Gripper; readonly face: OuterFace }[];
  /** Where and on which face it last lay, when it was located there. */
  readonly located: { readonly station: StationName; readonly face: OuterFace } | undefined;
}

/**
 * Where a part may be off when it is brought: what the infeed leaves open in the plane it lies in, every pick in the
 * plane of its pads, and the arm every time it puts the part. After a datum visit only what the datum leaves open in
 * its plane, and the arm once.
 */
export function bringingScatter(scene: Scene, part: number, way: PartWay): readonly Scatter[] {
  const { handler, infeed } = scene.cell;
  const arm: Scatter = { source: handler.id, mm: handler.accuracy };
  const lying = (source: string, station: Station, face: OuterFace): Scatter => ({
    source,
    mm: station.accuracy,
    degrees: station.turnAccuracy,
    across: finalNormal(scene, part, face),
  });
  const datum = way.located && stationOf(scene.cell, way.located.station);
  if (datum) return [lying(DATUM, datum, way.located!.face), arm];
  return [
    lying('infeed', infeed, way.rest),
    ...way.grips.flatMap(({ gripper, face }): Scatter[] => [
      { source: `pick by ${gripper.id}`, mm: gripper.slip, across: finalNormal(scene, part, face) },
      arm,
    ]),
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
  readonly rest: OuterFace;
  readonly located: boolean;
  readonly seated: boolean;
  /** Grips that it had; counted as `GRIPS_COUNTED` at least. */
  readonly grips: number;
}

/**
 * Where a part in place may be off. Conservative, so that it does not depend on the grips that it had: as many as a
 * part may have, each in every direction with the slip of the worst gripper; a seated one may have moved by all that
 * seating closes.
 */
export function placeScatter(scene: Scene, other: PartInPlace): readonly Scatter[] {
  const { handler, grippers, infeed, regrip, twoSided, table } = scene.cell;
  if (other.first) return [{ source: 'first-part datum', mm: table.firstPartAccuracy }];
  const arm: Scatter = { source: handler.id, mm: handler.accuracy };
  const slip: Scatter = { source: 'pick', mm: Math.max(0, ...grippers.map((gripper) => gripper.slip)) };
  const seating: Scatter[] =
    other.seated && handler.seating !== undefined ? [{ source: 'seating', mm: handler.seating.travel }] : [];
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
      across: finalNormal(scene, other.part, other.rest),
    },
    ...grips.flat(),
    ...seating,
  ];
}
