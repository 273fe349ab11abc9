import { has, setOf, withMember, type PartSet } from '../base/part-set.js';
import { compareVectors, snap } from '../base/order.js';
import { boundsAround } from '../geometry/bounds.js';
import { facePatches } from '../geometry/patches.js';
import { rotate, transpose } from '../geometry/pose.js';
import { placeSolid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { add, dot, negate, unit, type Vec3 } from '../geometry/vector.js';
import { normalInto, type Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';

/** A straight way into place and what stands in it. */
export interface Approach {
  /** Unit direction of travel into place, cell frame. */
  readonly direction: Vec3;
  /** Length of the stroke, mm: it starts outside the box around the whole weldment. */
  readonly distance: number;
  /** Parts that the moving part would hit. */
  readonly hits: PartSet;
  /** Pairs of parts between whose faces it would have to slide without the insertion clearance. */
  readonly squeezes: readonly (readonly [number, number])[];
  /** What always stands in the way: the table or a keep-out; such an approach is refused. */
  readonly fixedHit: 'table' | 'keep-out' | undefined;
}

const UP: Vec3 = [0, 0, 1];
const GRAIN = 1e-6;
/** Gap between the box of the part and the box of the weldment at the start of the stroke, mm. */
const CLEAR = 10;

const key = (v: Vec3): string => v.map((x) => snap(x, 1e-6).toFixed(6)).join(' ');

/** Ways out of place: up, away from each neighbour, sums of two of those, and ways the file adds. */
export function waysOut(scene: Scene, part: number): readonly Vec3[] {
  const found = new Map<string, Vec3>();
  const offer = (v: Vec3): void => {
    if (dot(v, v) > 1e-6) found.set(key(unit(v)), unit(v));
  };
  offer(UP);
  const normals = scene.contacts
    .filter(({ a, b }) => a === part || b === part)
    .flatMap((contact) => contact.patches.map(({ normal }) => normalInto(contact, part, normal)));
  normals.forEach(offer);
  for (const p of [UP, ...normals]) for (const q of normals) offer(add(p, q));
  for (const way of scene.parts[part]!.part.approaches)
    offer(negate(rotate(scene.cell.weldmentPose.turn, way)));
  const inWeldment = (way: Vec3): number[] =>
    rotate(transpose(scene.cell.weldmentPose.turn), way).map((x) => snap(x, GRAIN));
  return [...found.values()]
    .filter((way) => way[2] > -0.1)
    .sort((p, q) => snap(q[2] - p[2], GRAIN) || compareVectors(inWeldment(p), inWeldment(q)));
}

/** Length of stroke after which the box of the part is clear of the box around all parts. */
function strokeLength(scene: Scene, part: number, wayOut: Vec3, least: number): number {
  const boxes = scene.parts.map(({ part: { pose }, own }) => placeSolid(own, pose).bounds);
  const ownBox = boxes[part]!;
  const others = boxes.filter((_, i) => i !== part);
  if (others.length === 0) return least;
  const all = boundsAround(others);
  const inWeldment = rotate(transpose(scene.cell.weldmentPose.turn), wayOut);
  const needed = ([0, 1, 2] as const).map((axis) => {
    const speed = inWeldment[axis];
    if (Math.abs(speed) < GRAIN) return Infinity;
    const gap = speed > 0 ? all.high[axis] - ownBox.low[axis] : ownBox.high[axis] - all.low[axis];
    return (gap + CLEAR) / Math.abs(speed);
  });
  return snap(Math.max(least, Math.min(...needed)), 0.1) + 0.1;
}

/** Pairs of parts between whose opposed faces the part slides with too little room, and how much room there is, mm. */
function narrowsOf(
  scene: Scene,
  part: number,
  wayOut: Vec3,
): ReadonlyMap<string, { readonly pair: readonly [number, number]; readonly room: number }> {
  const { insertion } = scene.weldment.fitUp;
  const sides = scene.parts.flatMap((other, i) =>
    i === part
      ? []
      : facePatches(other.solid, scene.parts[part]!.solid, 2 * insertion)
          .filter(({ normal }) => Math.abs(dot(normal, wayOut)) < GRAIN)
          .map(({ normal, gap }) => ({ other: i, normal, gap })),
  );
  const narrows = new Map<string, { readonly pair: readonly [number, number]; readonly room: number }>();
  for (const p of sides)
    for (const q of sides) {
      const room = p.gap + q.gap;
      if (p.other > q.other || dot(p.normal, q.normal) >= -1 + GRAIN) continue;
      if (snap(room - 2 * insertion, GRAIN) >= 0) continue;
      const key = `${p.other} ${q.other}`;
      const known = narrows.get(key)?.room ?? Infinity;
      narrows.set(key, { pair: [p.other, q.other], room: Math.min(known, room) });
    }
  return narrows;
}

/** Opposed faces that the part slides along between two others with too little room, as pairs of part indices. */
const squeezesOf = (scene: Scene, part: number, wayOut: Vec3): (readonly [number, number])[] =>
  [...narrowsOf(scene, part, wayOut).values()].map(({ pair }) => pair);

/** The room in which a part slides between two others along an approach, mm; undefined where it is enough. */
export const roomBetween = (
  scene: Scene,
  part: number,
  { direction }: Approach,
  [p, q]: readonly [number, number],
): number | undefined =>
  narrowsOf(scene, part, negate(direction)).get(`${Math.min(p, q)} ${Math.max(p, q)}`)?.room;

function judge(scene: Scene, part: number, wayOut: Vec3, settings: Settings): Approach {
  const { 'approach-distance': least, 'touch-tolerance': tolerance } = settings.motion;
  const distance = strokeLength(scene, part, wayOut, least);
  const moving = scene.parts[part]!.solid;
  const hit = scene.parts.flatMap(({ solid }, i) =>
    i !== part && sweepHits(moving, wayOut, distance, solid, tolerance) ? [i] : [],
  );
  const hitsTable = sweepHits(moving, wayOut, distance, scene.table, tolerance);
  const hitsKeepOut = scene.keepOuts.some((solid) => sweepHits(moving, wayOut, distance, solid, tolerance));
  const squeezes = squeezesOf(scene, part, wayOut);
  let hits = setOf(scene.parts.length, hit);
  for (const [p, q] of squeezes) if (p === q) hits = withMember(hits, p);
  return {
    direction: negate(wayOut),
    distance,
    hits,
    squeezes: squeezes.filter(([p, q]) => p !== q),
    fixedHit: hitsTable ? 'table' : hitsKeepOut ? 'keep-out' : undefined,
  };
}

/** Every candidate way into place for a part, with what blocks it. */
export const approachesOf = (scene: Scene, part: number, settings: Settings): readonly Approach[] =>
  waysOut(scene, part).map((way) => judge(scene, part, way, settings));

/** Parts in place that block an approach. */
export function blockers(approach: Approach, inPlace: PartSet): readonly number[] {
  const found = new Set<number>();
  approach.hits.forEach((word, i) => {
    for (let bit = 0; bit < 32; bit += 1) if (((word & inPlace[i]!) >>> bit) & 1) found.add(i * 32 + bit);
  });
  for (const [p, q] of approach.squeezes)
    if (has(inPlace, p) && has(inPlace, q)) {
      found.add(p);
      found.add(q);
    }
  return [...found].sort((p, q) => p - q);
}
