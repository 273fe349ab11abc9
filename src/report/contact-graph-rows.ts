import { snap } from '../base/order.js';
import { inverse, rotate } from '../geometry/pose.js';
import type { Scene } from '../model/scene.js';
import type { Pair } from './contact-graph-layout.js';

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

/** Rows of parts, lowest first, each in the order in which they stand along the longer side of the weldment. */
export function standingRows(scene: Scene): number[][] {
  const layers = layersOf(scene);
  const back = inverse(scene.cell.weldmentPose);
  const centres = scene.parts.map(({ solid }) => rotate(back.turn, solid.centre));
  const spreadAlong = (axis: 0 | 1): number =>
    Math.max(...centres.map((c) => c[axis])) - Math.min(...centres.map((c) => c[axis]));
  const axis = snap(spreadAlong(1) - spreadAlong(0), 1e-3) > 0 ? 1 : 0;
  return Array.from({ length: Math.max(...layers) + 1 }, (_, layer) =>
    layers
      .flatMap((own, part) => (own === layer ? [part] : []))
      .sort((p, q) => snap(centres[p]![axis] - centres[q]![axis], 1e-3) || p - q),
  );
}

/**
 * Rows of parts by the order in which they join, the base first: each part one above the highest of those that it met when
 * it came. Parts that never join come last. `order` and `pairs` are part indices; within a row parts stand in the order
 * of `beside`.
 */
export function joiningRows(
  order: readonly number[],
  pairs: readonly Pair[],
  beside: readonly number[],
): number[][] {
  const layers = new Map<number, number>();
  for (const part of order) {
    const met = pairs.flatMap(([a, b]) => {
      const other = a === part ? b : b === part ? a : undefined;
      const layer = other === undefined ? undefined : layers.get(other);
      return layer === undefined ? [] : [layer];
    });
    layers.set(part, met.length === 0 ? 0 : Math.max(...met) + 1);
  }
  const top = Math.max(-1, ...layers.values()) + 1;
  const rows = Array.from({ length: top + 1 }, (): number[] => []);
  for (const part of beside) rows[layers.get(part) ?? top]!.push(part);
  return rows;
}
