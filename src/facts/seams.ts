import { compareVectors, rounded, snap } from '../base/order.js';
import { frustumPiece, placePiece } from '../geometry/convex.js';
import { polygonContains, polygonEdges } from '../geometry/polygon.js';
import { fromAxes, inverse, place, rotate, type Pose } from '../geometry/pose.js';
import { overlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import {
  add,
  along,
  cross,
  dot,
  negate,
  perpendicular,
  subtract,
  unit,
  type Vec3,
} from '../geometry/vector.js';
import { asMember } from '../model/group.js';
import type { Contact, PlacedPart, Scene } from '../model/scene.js';
import type { MemberPair } from '../model/shape.js';
import type { Patch } from '../geometry/patches.js';

/** How a seam lies: in an inside corner (fillet, lap), or where both surfaces end flush (butt, corner, edge). */
export type SeamKind = 'inside' | 'flush';

/** A straight run along the edge of a contact where a weld can be laid. Weldment frame, mm. */
export interface Seam {
  readonly kind: SeamKind;
  readonly from: Vec3;
  readonly to: Vec3;
  /** Unit bisector of the open side: where the torch comes from. */
  readonly open: Vec3;
  /** Unit, in the plane of the contact, out of it. */
  readonly out: Vec3;
  /** Root gap between the two parts, mm. */
  readonly gap: number;
  readonly length: number;
  /** Whether it is a chord: one facet's share of the rim of a round end. */
  readonly chord: boolean;
}

/** How far beyond an edge a surface is probed, mm. */
const PROBE = 0.5;
/** How far beyond an edge it is seen whether the edge is one of the face at all, mm. */
const JUST_BEYOND = 1e-3;
/** Nearer to a facet than this, mm, is on it. */
const ON_FACET = 1e-4;
/** The pencil that must reach the seam from its open side: radius, start and end, mm. */
const PENCIL = { radius: 1.5, from: 5, to: 60 } as const;

/** Whether the surface of a face goes on at `point`, judged over all polygons of that face. */
function continuesAt(solid: Solid, faceId: string, point: Vec3): boolean {
  const face = solid.faces.find(({ id }) => id === faceId)!;
  const onPlane = along(point, face.normal, face.offset - dot(face.normal, point));
  return face.polygons.some((polygon) => polygonContains(polygon, face.normal, onPlane, 1e-6));
}

function opening(
  patch: Patch,
  out: Vec3,
  aGoesOn: boolean,
  bGoesOn: boolean,
): { kind: SeamKind; open: Vec3 } | undefined {
  if (aGoesOn && bGoesOn) return undefined;
  if (aGoesOn) return { kind: 'inside', open: unit(add(out, patch.normal)) };
  if (bGoesOn) return { kind: 'inside', open: unit(add(out, negate(patch.normal))) };
  return { kind: 'flush', open: out };
}

/** Whether a thin pencil along the open direction is stopped by the two parts themselves (a closed cavity). */
function closedIn(seam: Seam, solids: readonly Solid[]): boolean {
  const middle = along(seam.from, subtract(seam.to, seam.from), 0.5);
  const x = perpendicular(seam.open);
  const pencil = placePiece(frustumPiece(PENCIL.radius, PENCIL.from, PENCIL.radius, PENCIL.to, 6), {
    at: middle,
    turn: fromAxes(x, cross(seam.open, x), seam.open),
  });
  return solids.some((solid) => solid.pieces.some((piece) => overlap(pencil, piece, 0.01)));
}

/** Where along an edge a surface may begin or end: the corners of both faces, as distances from the edge's start. */
function breaks(from: Vec3, way: Vec3, size: number, a: PlacedPart, b: PlacedPart, patch: Patch): number[] {
  const corners = [
    ...a.solid.faces.find(({ id }) => id === patch.faceA)!.polygons,
    ...b.solid.faces.find(({ id }) => id === patch.faceB)!.polygons,
  ].flat();
  const inside = corners
    .map((corner) => snap(dot(subtract(corner, from), way), 1e-4))
    .filter((at) => at > PROBE && at < size - PROBE);
  return [0, ...[...new Set(inside)].sort((p, q) => p - q), size];
}

/** Whether a run lies along the end of a round facet of either part. */
const isChord = (from: Vec3, to: Vec3, ...parts: readonly PlacedPart[]): boolean =>
  parts.some(({ solid }) =>
    solid.faces.some(
      ({ curved, normal, offset, polygons }) =>
        curved !== undefined &&
        [from, to].every(
          (point) =>
            Math.abs(dot(normal, point) - offset) < ON_FACET &&
            polygons.some((polygon) => polygonContains(polygon, normal, point, ON_FACET)),
        ) &&
        Math.abs(dot(unit(subtract(to, from)), unit(subtract(curved[1], curved[0])))) < 0.5,
    ),
  );

function seamsOfPatch(patch: Patch, a: PlacedPart, b: PlacedPart): Seam[] {
  return polygonEdges(patch.polygon, patch.normal).flatMap((edge) => {
    const { from, direction, outward: out } = edge;
    const at = breaks(from, direction, edge.length, a, b, patch);
    return at.slice(1).flatMap((end, i) => {
      const start = at[i]!;
      const goOn = (probe: number): readonly [boolean, boolean] => {
        const beyond = along(along(from, direction, (start + end) / 2), out, probe);
        return [continuesAt(a.solid, patch.faceA, beyond), continuesAt(b.solid, patch.faceB, beyond)];
      };
      // Two polygons of one face meet here, and the rim is only near.
      if (goOn(JUST_BEYOND).every((on) => on)) return [];
      const opened = opening(patch, out, ...goOn(PROBE));
      if (!opened) return [];
      const [p, q] = [along(from, direction, start), along(from, direction, end)];
      const gap = Math.max(0, patch.gap);
      return [{ ...opened, out, gap, from: p, to: q, length: end - start, chord: isChord(p, q, a, b) }];
    });
  });
}

/** Text that is equal for seams on one line with one opening. */
function lineKey(seam: Seam): string {
  const way = unit(subtract(seam.to, seam.from));
  const forward = way.find((x) => Math.abs(x) > 1e-6)! > 0 ? way : negate(way);
  const foot = along(seam.from, forward, -dot(seam.from, forward));
  return [...forward, ...foot.map((x) => snap(x, 1e-3)), ...seam.open, ...seam.out]
    .map((x) => rounded(x, 3))
    .join(' ');
}

/** Joins seams that continue one another on the same line. */
function merged(seams: readonly Seam[]): Seam[] {
  const lines = new Map<string, Seam[]>();
  for (const seam of seams) lines.set(lineKey(seam), [...(lines.get(lineKey(seam)) ?? []), seam]);
  return [...lines.values()].flatMap((group) => {
    // Always the same way round, whichever of the two parts comes first by name.
    const wound = unit(subtract(group[0]!.to, group[0]!.from));
    const way = wound.find((x) => Math.abs(x) > 1e-6)! > 0 ? wound : negate(wound);
    const spans = group
      .map(({ from, to }) => [dot(from, way), dot(to, way)].sort((p, q) => p - q) as [number, number])
      .sort((p, q) => p[0] - q[0]);
    const joined: [number, number][] = [];
    for (const span of spans) {
      const last = joined.at(-1);
      if (last && span[0] <= last[1] + 1e-6) last[1] = Math.max(last[1], span[1]);
      else joined.push(span);
    }
    const foot = along(group[0]!.from, way, -dot(group[0]!.from, way));
    return joined.map(([low, high]) => ({
      ...group[0]!,
      from: along(foot, way, low),
      to: along(foot, way, high),
      length: snap(high - low, 1e-6),
    }));
  });
}

/** Longest first; equal lengths by where they lie. */
const bySize = (p: Seam, q: Seam): number =>
  snap(q.length - p.length, 1e-3) ||
  compareVectors(grainy(p.open), grainy(q.open)) ||
  compareVectors(grainy(p.from), grainy(q.from));

const grainy = (v: Vec3): number[] => v.map((x) => snap(x, 1e-3));

const moved = (pose: Pose, seam: Seam): Seam => ({
  ...seam,
  from: place(pose, seam.from),
  to: place(pose, seam.to),
  open: rotate(pose.turn, seam.open),
  out: rotate(pose.turn, seam.out),
});

/**
 * Every run along the boundary of a contact where the open side can be reached at all, longest first. Of groups the
 * contact is that of two members, which are then seen by themselves.
 */
export function seamsOfContact(
  scene: Scene,
  contact: Contact,
  members: MemberPair = [undefined, undefined],
): readonly Seam[] {
  const [a, b] = [contact.a, contact.b].map((part, i) => asMember(scene.parts[part]!, members[i])) as [
    PlacedPart,
    PlacedPart,
  ];
  const frame = scene.cell.weldmentPose;
  const toWeldment = inverse(frame);
  const found = contact.patches.flatMap((patch) => seamsOfPatch(patch, a, b));
  return merged(found.map((seam) => moved(toWeldment, seam)))
    .filter((seam) => !closedIn(moved(frame, seam), [a.solid, b.solid]))
    .sort(bySize);
}
