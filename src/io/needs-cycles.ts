import { compareText } from '../base/order.js';

/** `part` joins only after `after`. */
export interface Need {
  readonly part: string;
  readonly after: string;
}

/**
 * Cycles among needs, one for each group of parts that wait for each other: names in the order "first after second,
 * second after third, ... , last after first", beginning with the least name. A part that needs itself is not counted.
 */
export function needsCycles(needs: readonly Need[]): readonly (readonly string[])[] {
  const waits = new Map<string, Set<string>>();
  for (const { part, after } of needs)
    if (part !== after) waits.set(part, (waits.get(part) ?? new Set()).add(after));
  const cycles: (readonly string[])[] = [];
  dropSettled(waits);
  while (waits.size > 0) {
    const cycle = cycleIn(waits);
    cycles.push(cycle);
    for (const part of cycle) waits.delete(part);
    dropSettled(waits);
  }
  return cycles;
}

/** Removes every part that waits, in the end, for nothing that waits itself. */
function dropSettled(waits: Map<string, Set<string>>): void {
  for (let dropped = true; dropped;) {
    dropped = false;
    for (const [part, others] of waits) {
      for (const other of others) if (!waits.has(other)) others.delete(other);
      if (others.size > 0) continue;
      waits.delete(part);
      dropped = true;
    }
  }
}

/** Follows the least name each time until a part comes again; every part here waits for another one here. */
function cycleIn(waits: ReadonlyMap<string, ReadonlySet<string>>): readonly string[] {
  const least = (names: Iterable<string>): string => [...names].sort(compareText)[0]!;
  const trail = new Map<string, number>();
  let part = least(waits.keys());
  while (!trail.has(part)) {
    trail.set(part, trail.size);
    part = least(waits.get(part)!);
  }
  const cycle = [...trail.keys()].slice(trail.get(part));
  const start = cycle.indexOf(least(cycle));
  return [...cycle.slice(start), ...cycle.slice(0, start)];
}
