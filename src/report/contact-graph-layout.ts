import { snap } from '../base/order.js';
import { inverse, rotate } from '../geometry/pose.js';
import type { Scene } from '../model/scene.js';
import { inspectName } from './contact-graph-names.js';
import type { Box } from './label-places.js';
import { textWidth, type Point } from './svg.js';

/** A part in the graph, with its box in pixels. */
export interface GraphNode {
  readonly part: number;
  readonly name: string;
  readonly detail: string;
  readonly box: Box;
}

export interface GraphLayout {
  readonly nodes: ReadonlyMap<number, GraphNode>;
  readonly width: number;
  readonly height: number;
}

const NODE = { height: 50, layerGap: 120, margin: 60, top: 90, least: 120 } as const;
const STEEP = 0.7;

/**
 * How high in the graph each part goes: one above the highest part that it lies on; a part that only touches others
 * from the side goes beside the lowest of those, above the parts that stand on the table.
 */
export function layersOf(scene: Scene): number[] {
  const lowest = scene.parts.map(({ solid }) => solid.bounds.low[2]);
  const order = scene.parts.map((_, i) => i).sort((p, q) => lowest[p]! - lowest[q]! || p - q);
  const layers = new Map<number, number>();
  for (const part of order) {
    const met = scene.contacts.flatMap((contact) => {
      const other = contact.a === part ? contact.b : contact.b === part ? contact.a : undefined;
      const layer = other === undefined ? undefined : layers.get(other);
      if (layer === undefined) return [];
      const under = contact.patches.some(({ normal }) => (contact.b === part ? 1 : -1) * normal[2] > STEEP);
      return [{ layer, under }];
    });
    const under = met.filter((other) => other.under).map(({ layer }) => layer);
    const beside = met.map(({ layer }) => layer);
    const layer = under.length > 0 ? Math.max(...under) + 1 : beside.length > 0 ? Math.min(...beside) : 0;
    layers.set(part, layer);
  }
  return scene.parts.map((_, part) => layers.get(part)!);
}

type Pair = readonly [number, number];

/** How tangled an arrangement is: lines that cross, and parts that lines within a row have to go around. */
export function tangles(rows: readonly (readonly number[])[], pairs: readonly Pair[]): number {
  const place = new Map(
    rows.flatMap((row, layer) => row.map((part, i) => [part, [i, layer] as const] as const)),
  );
  let count = 0;
  pairs.forEach(([a, b], n) => {
    const [[ax, ay], [bx, by]] = [place.get(a)!, place.get(b)!];
    if (ay === by) count += Math.abs(ax - bx) - 1;
    for (const [c, d] of pairs.slice(n + 1)) {
      const [[cx, cy], [dx, dy]] = [place.get(c)!, place.get(d)!];
      if (ay === cy && by === dy && ay !== by && (ax - cx) * (bx - dx) < 0) count += 1;
      if (ay === dy && by === cy && ay !== by && (ax - dx) * (bx - cx) < 0) count += 1;
    }
  });
  return count;
}

/** Swaps neighbours in a row as long as that leaves fewer tangles. */
function untangled(rows: number[][], pairs: readonly Pair[]): number[][] {
  let best = tangles(rows, pairs);
  for (let better = true; better;) {
    better = false;
    for (const row of rows)
      for (let i = 0; i + 1 < row.length; i += 1) {
        [row[i], row[i + 1]] = [row[i + 1]!, row[i]!];
        const count = tangles(rows, pairs);
        if (count < best) {
          best = count;
          better = true;
        } else [row[i], row[i + 1]] = [row[i + 1]!, row[i]!];
      }
  }
  return rows;
}

/** Rows of parts, lowest first, each in the order in which they stand along the longer side of the weldment. */
function rowsOf(scene: Scene, pairs: readonly Pair[]): number[][] {
  const layers = layersOf(scene);
  const back = inverse(scene.cell.weldmentPose);
  const centres = scene.parts.map(({ solid }) => rotate(back.turn, solid.centre));
  const spreadAlong = (axis: 0 | 1): number =>
    Math.max(...centres.map((c) => c[axis])) - Math.min(...centres.map((c) => c[axis]));
  const axis = snap(spreadAlong(1) - spreadAlong(0), 1e-3) > 0 ? 1 : 0;
  const rows = Array.from({ length: Math.max(...layers) + 1 }, (_, layer) =>
    layers
      .flatMap((own, part) => (own === layer ? [part] : []))
      .sort((p, q) => snap(centres[p]![axis] - centres[q]![axis], 1e-3) || p - q),
  );
  return untangled(
    rows.filter((row) => row.length > 0),
    pairs,
  );
}

/**
 * Places the parts of a weldment in rows, what stands on the table at the bottom, with `gap` pixels between parts.
 * `least` is the least width.
 */
export function graphLayout(
  scene: Scene,
  pairs: readonly Pair[],
  { least, gap }: { readonly least: number; readonly gap: number },
): GraphLayout {
  const names = scene.parts.map(({ part, mass }) => inspectName(part, mass));
  const widths = names.map(({ name, detail }) =>
    Math.max(NODE.least, textWidth(name, 15) + 30, textWidth(detail, 12) + 16),
  );
  const rows = rowsOf(scene, pairs);
  const widthOf = (row: readonly number[]): number =>
    row.reduce((sum, part) => sum + widths[part]!, 0) + gap * (row.length - 1);
  const width = Math.max(least, ...rows.map((row) => widthOf(row) + 2 * NODE.margin));
  const nodes = new Map<number, GraphNode>();
  rows.forEach((row, i) => {
    const y = NODE.top + (rows.length - 1 - i) * (NODE.height + NODE.layerGap);
    let x = (width - widthOf(row)) / 2;
    for (const part of row) {
      const box = { x, y, width: widths[part]!, height: NODE.height };
      nodes.set(part, { part, ...names[part]!, box });
      x += widths[part]! + gap;
    }
  });
  const height = NODE.top + rows.length * NODE.height + (rows.length - 1) * NODE.layerGap;
  return { nodes, width, height };
}

/** Where two boxes are connected: a curve from middle to middle that meets no other box, if one is found. */
export interface Curve {
  readonly from: Point;
  readonly bend: Point;
  readonly to: Point;
}

export const middleOf = ({ x, y, width, height }: Box): Point => [x + width / 2, y + height / 2];

export const onCurve = ({ from, bend, to }: Curve, t: number): Point =>
  [0, 1].map(
    (i) => (1 - t) * (1 - t) * from[i]! + 2 * t * (1 - t) * bend[i]! + t * t * to[i]!,
  ) as unknown as Point;

const BENDS = [0, 60, -60, 120, -120, 180, -180, 260, -260, 360, -360];
const SAMPLES = 40;

/** The least bent curve between two boxes that stays clear of the others. */
export function curveBetween(a: Box, b: Box, others: readonly Box[]): Curve {
  const [from, to] = [middleOf(a), middleOf(b)];
  const size = Math.max(1, Math.hypot(to[0] - from[0], to[1] - from[1]));
  const aside: Point = [-(to[1] - from[1]) / size, (to[0] - from[0]) / size];
  const curves = BENDS.map((bend): Curve => ({
    from,
    to,
    bend: [(from[0] + to[0]) / 2 + aside[0] * bend, (from[1] + to[1]) / 2 + aside[1] * bend],
  }));
  const hits = (curve: Curve): number =>
    Array.from({ length: SAMPLES + 1 }, (_, i) => onCurve(curve, i / SAMPLES)).filter(([x, y]) =>
      others.some(
        (box) => x > box.x - 8 && x < box.x + box.width + 8 && y > box.y - 8 && y < box.y + box.height + 8,
      ),
    ).length;
  return curves.reduce((best, next) => (hits(next) < hits(best) ? next : best));
}
