import { CrossingOrder, type Crossing, type Merged } from './crossing-order.js';

interface Candidate extends Crossing {
  /** Places in the list of crossings that it makes needless. */
  readonly replaces: readonly number[];
  /** How much later it could be without a longer makespan. */
  readonly slack: number;
}

/**
 * Again and again the crossing, from where one begins to where one ends, that makes the most others needless and fits;
 * among equals the one with the most slack. When none makes two needless, those are dropped without which the others
 * imply all that is required.
 */
export function mergeGreedily(
  durations: readonly (readonly number[])[],
  required: readonly Crossing[],
): readonly Merged[] {
  let crossings: readonly Merged[] = required.map((crossing, i) => ({ ...crossing, carries: [i] }));
  for (;;) {
    const best = bestCandidate(durations, crossings);
    if (best === undefined) return withoutNeedless(durations, required, crossings);
    const { from, to, replaces } = best;
    const carries = replaces.flatMap((i) => crossings[i]!.carries).sort((a, b) => a - b);
    const first = replaces[0]!;
    crossings = crossings.flatMap((one, i) =>
      i === first ? [{ from, to, carries }] : replaces.includes(i) ? [] : [one],
    );
  }
}

function withoutNeedless(
  durations: readonly (readonly number[])[],
  required: readonly Crossing[],
  crossings: readonly Merged[],
): readonly Merged[] {
  return crossings.reduce((kept, one) => {
    const others = kept.filter((other) => other !== one);
    const order = CrossingOrder.of(durations, others);
    return order && required.every(({ from, to }) => order.upTo(from, to)) ? others : kept;
  }, crossings);
}

function bestCandidate(
  durations: readonly (readonly number[])[],
  crossings: readonly Merged[],
): Candidate | undefined {
  const order = CrossingOrder.of(durations, crossings);
  if (order === undefined) throw new RangeError('The programs would wait for one another for ever.');
  const { makespan } = order;
  const tails = tailsOf(durations, crossings);
  let best: Candidate | undefined;
  for (const { from } of crossings)
    for (const { to } of crossings) {
      if (from.program === to.program || order.upTo(to, from)) continue;
      const slack = makespan - order.endOf(from) - tails[to.program]![to.event]!;
      if (slack < 0) continue;
      const replaces = crossings.flatMap((one, i) =>
        order.upTo(one.from, from) && order.upTo(to, one.to) ? [i] : [],
      );
      if (replaces.length < 2) continue;
      const gain = replaces.length - (best?.replaces.length ?? 0);
      if (best === undefined || gain > 0 || (gain === 0 && slack > best.slack))
        best = { from, to, replaces, slack };
    }
  return best;
}

/** Of each step the least time from its start to the end of everything: the same network run backwards. */
function tailsOf(
  durations: readonly (readonly number[])[],
  crossings: readonly Crossing[],
): readonly (readonly number[])[] {
  const turned = ({ program, event }: Crossing['from']) => ({
    program,
    event: durations[program]!.length - 1 - event,
  });
  const backwards = CrossingOrder.of(
    durations.map((steps) => steps.toReversed()),
    crossings.map(({ from, to }) => ({ from: turned(to), to: turned(from) })),
  )!;
  return durations.map((steps, program) =>
    steps.map((_, event) => backwards.endOf(turned({ program, event }))),
  );
}
