import { CrossingOrder, type Crossing } from '../../src/algorithms/crossing-order.js';
import { seededRandom } from '../../src/base/random.js';

/** Programs with durations, and crossings none of which the others imply. */
export interface RandomCrossings {
  readonly durations: readonly (readonly number[])[];
  readonly required: readonly Crossing[];
}

/** Random steps in one random order of all; crossings go forward in it, so that they make no circle. */
export function randomCrossings(
  seed: number,
  shape: { programs: number; steps: number; crossings: number },
): RandomCrossings {
  const random = seededRandom(seed);
  const pick = (n: number): number => Math.floor(random() * n);
  const durations = Array.from({ length: shape.programs }, () =>
    Array.from({ length: 1 + pick(shape.steps) }, () => pick(6)),
  );
  const order: Crossing['from'][] = [];
  const next = durations.map(() => 0);
  while (next.some((event, program) => event < durations[program]!.length)) {
    const program = pick(shape.programs);
    const event = next[program]!;
    if (event === durations[program]!.length) continue;
    order.push({ program, event });
    next[program] = event + 1;
  }
  const crossings: Crossing[] = [];
  for (let i = 0; i < shape.crossings; i += 1) {
    const [a, b] = [pick(order.length), pick(order.length)].sort((x, y) => x - y);
    const [from, to] = [order[a!]!, order[b!]!];
    if (from.program !== to.program) crossings.push({ from, to });
  }
  return { durations, required: reduced(durations, crossings) };
}

/** Drops one crossing after the other that the rest implies: naive, and for an acyclic graph the only result. */
export function reduced(
  durations: readonly (readonly number[])[],
  crossings: readonly Crossing[],
): readonly Crossing[] {
  return crossings.reduce((kept, one) => {
    const others = kept.filter((other) => other !== one);
    return CrossingOrder.of(durations, others)!.upTo(one.from, one.to) ? others : kept;
  }, crossings);
}
