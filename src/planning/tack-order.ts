import type { TackSite } from '../facts/tack-sites.js';

/** Positions 0..n-1 as a welder takes them: one end, the other, then the middles of what is left (common practice). */
function endsFirst(n: number): number[] {
  const order: number[] = [];
  const spans: [number, number][] = [[0, n - 1]];
  if (n > 0) order.push(0);
  if (n > 1) order.push(n - 1);
  for (let span = spans.shift(); span; span = spans.shift()) {
    const [low, high] = span;
    if (high - low < 2) continue;
    const middle = (low + high) >> 1;
    order.push(middle);
    spans.push([low, middle], [middle, high]);
  }
  return order;
}

/**
 * The order of a stage's tacks: ends first on each seam, alternating between the seams (common practice; the
 * distortion engine will choose it later).
 */
export function orderTacks<T extends { readonly site: TackSite }>(tacks: readonly T[]): readonly T[] {
  const seams = [...new Set(tacks.map(({ site }) => site.seam.id))];
  const queues = seams.map((id) => {
    const own = tacks.filter(({ site }) => site.seam.id === id).sort((p, q) => p.site.start - q.site.start);
    return endsFirst(own.length).map((i) => own[i]!);
  });
  const ordered: T[] = [];
  while (ordered.length < tacks.length)
    for (const queue of queues) {
      const next = queue.shift();
      if (next) ordered.push(next);
    }
  return ordered;
}
