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

const NODE = { height: 50, margin: 60, top: 90, least: 120 } as const;
export type Pair = readonly [number, number];

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

/** What a part is called in the graph. */
export interface GraphName {
  readonly name: string;
  readonly detail: string;
}

/**
 * Places parts in rows, the first row at the bottom, with `gap` pixels between parts and `layerGap` between rows; `names` are by part. `least` is the
 * least width. Parts change places within their rows where that leaves fewer lines that cross.
 */
export function graphLayout(
  names: readonly GraphName[],
  unsorted: readonly (readonly number[])[],
  pairs: readonly Pair[],
  { least, gap, layerGap }: { readonly least: number; readonly gap: number; readonly layerGap: number },
): GraphLayout {
  const rows = untangled(
    unsorted.filter((row) => row.length > 0).map((row) => [...row]),
    pairs,
  );
  const widths = names.map(({ name, detail }) =>
    Math.max(NODE.least, textWidth(name, 15) + 30, textWidth(detail, 12) + 16),
  );
  const widthOf = (row: readonly number[]): number =>
    row.reduce((sum, part) => sum + widths[part]!, 0) + gap * (row.length - 1);
  const width = Math.max(least, ...rows.map((row) => widthOf(row) + 2 * NODE.margin));
  const nodes = new Map<number, GraphNode>();
  rows.forEach((row, i) => {
    const y = NODE.top + (rows.length - 1 - i) * (NODE.height + layerGap);
    let x = (width - widthOf(row)) / 2;
    for (const part of row) {
      const box = { x, y, width: widths[part]!, height: NODE.height };
      nodes.set(part, { part, ...names[part]!, box });
      x += widths[part]! + gap;
    }
  });
  const height = NODE.top + rows.length * NODE.height + (rows.length - 1) * layerGap;
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
