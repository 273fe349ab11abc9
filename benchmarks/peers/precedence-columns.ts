import type { MixedInteger, Sum } from './mixed-integer.js';
import type { Precedence } from './precedence.js';

/**
 * Binaries that say whether an item comes before another, with what makes them an order that agrees with the arcs; and
 * the sequence variables of Miller, Tucker and Zemlin (1960), each the number of items before its own.
 *
 * @param arc the columns that say that one comes right after the other
 * @returns earlier[a][b]; meaningless for a = b
 */
export function precedenceColumns(
  program: MixedInteger,
  { before, earliest, latest }: Precedence,
  arc: (a: number, b: number) => Sum,
): readonly (readonly number[])[] {
  const items = before.map((_, i) => i);
  const last = items.length - 1;
  const earlier = items.map((a) =>
    items.map((b) => program.whole(before[a]![b]! ? 1 : 0, a === b || before[b]![a]! ? 0 : 1)),
  );
  const place = items.map((i) => program.free(0, earliest[i], latest[i]));
  for (const b of items) {
    const all = items.filter((a) => a !== b).map((a): readonly [number, number] => [earlier[a]![b]!, 1]);
    program.equal([[place[b]!, 1]], all);
  }
  for (const a of items)
    for (const b of items) {
      if (a === b) continue;
      const direct = arc(a, b);
      if (a < b)
        program.row(1, 1, [
          [earlier[a]![b]!, 1],
          [earlier[b]![a]!, 1],
        ]);
      if (direct.length > 0) program.atMost(direct, [[earlier[a]![b]!, 1]]);
      // place[b] >= place[a] + 1 where b comes right after a.
      const room = direct.map(([column, factor]) => [column, factor * (last + 1)] as const);
      program.atMost([[place[a]!, 1], ...room], [[place[b]!, 1]], last);
      for (const c of items) {
        if (c === a || c === b || a > b || a > c) continue;
        // Each triangle once a direction: a circle of three is no order, nor is one closed by b right before a.
        program.row(0, 2, [[earlier[a]![b]!, 1], [earlier[b]![c]!, 1], [earlier[c]![a]!, 1], ...arc(b, a)]);
      }
    }
  return earlier;
}
