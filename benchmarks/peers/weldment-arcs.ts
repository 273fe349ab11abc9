import { isOne, MixedInteger, type Highs, type Sum } from './mixed-integer.js';
import { mayFollow } from './precedence.js';
import { precedenceColumns } from './precedence-columns.js';
import type { WeldmentModel } from './weldment-model.js';
import type { StagesFound } from './weldment-positions.js';

interface Arc {
  /** Part and gripper; undefined before the first and after the last. */
  readonly from: readonly [part: number, gripper: number] | undefined;
  readonly to: readonly [part: number, gripper: number] | undefined;
  readonly column: number;
}

/**
 * Arc-based: a path through nodes (part, gripper on the arm), one node of each part, with the sequence variables of Miller,
 * Tucker and Zemlin (1960); these are tied to a binary for each pair of parts that says which comes first, with the
 * triangles of these binaries (Sarin, Sherali and Bhootra 2005, from memory). Contact is one row on the binaries.
 */
export function weldmentByArcs(model: WeldmentModel, highs: Highs, patience: number): StagesFound {
  const { ids, grippers, precedence, taken, touching, change } = model;
  const program = new MixedInteger();
  const parts = ids.map((_, p) => p);
  const nodes = parts.flatMap((p) =>
    grippers.flatMap((_, g) => (taken[p]![g] === undefined ? [] : [[p, g] as const])),
  );
  const arcs: Arc[] = [];
  for (const to of nodes) {
    const [q, h] = to;
    const way = taken[q]![h]!.cost;
    if (precedence.earliest[q] === 0) arcs.push({ from: undefined, to, column: program.binary(way) });
    if (precedence.latest[q] === parts.length - 1)
      arcs.push({ from: to, to: undefined, column: program.binary() });
    for (const from of nodes) {
      if (!mayFollow(precedence, from[0], q)) continue;
      arcs.push({ from, to, column: program.binary(way + (from[1] === h ? 0 : change)) });
    }
  }
  const sum = (test: (arc: Arc) => boolean): Sum => arcs.filter(test).map(({ column }) => [column, 1]);
  for (const node of nodes)
    program.equal(
      sum(({ to }) => to === node),
      sum(({ from }) => from === node),
    );
  for (const p of parts)
    program.equal(
      sum(({ to }) => to?.[0] === p),
      [],
      1,
    );
  program.equal(
    sum(({ from }) => from === undefined),
    [],
    1,
  );
  program.equal(
    sum(({ to }) => to === undefined),
    [],
    1,
  );

  const earlier = precedenceColumns(program, precedence, (a, b) =>
    sum(({ from, to }) => from?.[0] === a && to?.[0] === b),
  );
  for (const p of parts) {
    const others = touching[p];
    if (others === undefined) continue;
    const begins = sum(({ from, to }) => from === undefined && to![0] === p);
    const before = others.map((q): readonly [number, number] => [earlier[q]![p]!, 1]);
    program.row(1, Infinity, [...begins, ...before]);
  }
  mountings(program, model, arcs);

  const solved = program.minimise(highs, patience);
  if (solved.status !== 'optimal') return solved;
  const next = new Map(
    arcs
      .filter(({ column }) => isOne(solved.values, column))
      .map(({ from, to }) => [from?.[0] ?? -1, to] as const),
  );
  const stages: (readonly [number, number])[] = [];
  for (let at = next.get(-1); at !== undefined; at = next.get(at[0])) stages.push(at);
  return { status: 'optimal', stages, firstAfter: solved.firstAfter };
}

/** A gripper that any part is taken with must be mounted at some place: the sub-tours over all nodes of one gripper. */
function mountings(program: MixedInteger, { ids, grippers }: WeldmentModel, arcs: readonly Arc[]): void {
  grippers.forEach((_, g) => {
    const mounted = arcs
      .filter(({ from, to }) => to?.[1] === g && from?.[1] !== g)
      .map(({ column }) => [column, 1] as const);
    ids.forEach((__, p) => {
      const taken = arcs
        .filter(({ to }) => to?.[0] === p && to[1] === g)
        .map(({ column }) => [column, 1] as const);
      if (taken.length > 0) program.atMost(taken, mounted);
    });
  });
}
