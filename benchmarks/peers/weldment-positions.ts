import { isOne, MixedInteger, type Highs, type Sum } from './mixed-integer.js';
import type { WeldmentModel } from './weldment-model.js';

export type Stages = readonly (readonly [part: number, gripper: number])[];

export type StagesFound =
  | { readonly status: 'optimal'; readonly stages: Stages; readonly firstAfter: number }
  | { readonly status: 'infeasible' | 'out of time' };

/**
 * Position-based, after the time-dependent formulation of Picard and Queyranne (1978): a part has a place, and a unit of
 * flow goes from place to place through a layered network. What a step from one place to the next costs depends on the
 * two grippers only, so that the nodes of a layer are grippers and not parts.
 *
 * `by[p][k]` says whether a part is in place after k + 1 stages (the step variables of Bowman 1959, from memory): in
 * them, precedence and contact are short rows, stronger than those on the places themselves.
 */
export function weldmentByPositions(model: WeldmentModel, highs: Highs, patience: number): StagesFound {
  const { ids, grippers, precedence, taken, touching } = model;
  const program = new MixedInteger();
  const places = ids.map((_, k) => k);
  const parts = ids.map((_, p) => p);
  const by = parts.map((p) =>
    places.map((k) =>
      program.free(0, k >= precedence.latest[p]! ? 1 : 0, k < precedence.earliest[p]! ? 0 : 1),
    ),
  );
  const joins = parts.map((p) =>
    grippers.map((_, g) => {
      const way = taken[p]![g];
      return places.map((k) =>
        way === undefined || k < precedence.earliest[p]! || k > precedence.latest[p]!
          ? undefined
          : program.binary(way.cost),
      );
    }),
  );
  const joining = (p: number, g: number, k: number): Sum => {
    const column = joins[p]![g]![k];
    return column === undefined ? [] : [[column, 1]];
  };
  const inPlace = (p: number, k: number): Sum => (k < 0 ? [] : [[by[p]![k]!, 1]]);
  for (const p of parts)
    for (const k of places)
      program.equal(inPlace(p, k), [...inPlace(p, k - 1), ...grippers.flatMap((_, g) => joining(p, g, k))]);
  for (const k of places)
    program.equal(
      parts.flatMap((p) => inPlace(p, k)),
      [],
      k + 1,
    );
  for (const [a, b] of precedence.covers)
    for (const k of places) program.atMost(inPlace(b, k), inPlace(a, k - 1));
  for (const p of parts) {
    const others = touching[p];
    if (others === undefined) continue;
    for (const k of places.slice(1))
      program.atMost(inPlace(p, k), [...inPlace(p, 0), ...others.flatMap((q) => inPlace(q, k - 1))]);
  }
  gripperFlow(program, model, joining);

  const solved = program.minimise(highs, patience);
  if (solved.status !== 'optimal') return solved;
  const stages = places.map((k): readonly [number, number] => {
    for (const p of parts)
      for (const g of grippers.keys()) {
        const column = joins[p]![g]![k];
        if (column !== undefined && isOne(solved.values, column)) return [p, g];
      }
    throw new Error(`HiGHS leaves place ${k} empty.`);
  });
  return { status: 'optimal', stages, firstAfter: solved.firstAfter };
}

/** One gripper at each place; and one that any part is taken with must be mounted at some place. */
function gripperFlow(
  program: MixedInteger,
  { ids, grippers, change }: WeldmentModel,
  joining: (part: number, gripper: number, place: number) => Sum,
): void {
  const kinds = grippers.map((_, g) => g);
  const parts = ids.map((_, p) => p);
  const at = (g: number, place: number): Sum => parts.flatMap((p) => joining(p, g, place));
  const mounted: Sum[] = kinds.map((g) => at(g, 0));
  for (let place = 1; place < ids.length; place += 1) {
    const flow = kinds.map((g) => kinds.map((h) => (g === h ? program.free() : program.binary(change))));
    for (const g of kinds) {
      program.equal(
        at(g, place - 1),
        flow[g]!.map((column) => [column, 1]),
      );
      const into = kinds.map((h): readonly [number, number] => [flow[h]![g]!, 1]);
      program.equal(at(g, place), into);
      mounted[g] = [...mounted[g]!, ...into.filter((_, h) => h !== g)];
    }
  }
  for (const g of kinds)
    for (const p of parts)
      program.atMost(
        parts.flatMap((place) => joining(p, g, place)),
        mounted[g]!,
      );
}
