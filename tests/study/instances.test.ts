import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bestFirst } from '../../src/algorithms/solvers/best-first.js';
import { Budget } from '../../src/base/budget.js';
import { heuristicProblem } from '../../src/study/heuristic-problem.js';
import type { HeuristicMove, HeuristicProblem } from '../../src/study/heuristic.js';
import type { PackedInstance } from '../../src/study/instance.js';
import { judgeSop } from '../../src/study/judge-sop.js';
import { readInstance } from '../../src/study/read-instance.js';
import { runHeuristic } from '../../src/study/run-heuristic.js';
import { runPacked } from '../../src/study/run-packed.js';
import { Stopwatch } from '../../src/study/stopwatch.js';

const RING = 'examples/ring-of-six/ring-of-six.weldment.yaml';
const file = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

/** Four nodes; 3 must come before 2. By hand: 0 1 3 2 4 is 2 + 1 + 3 + 1 = 7, 0 3 1 2 4 is 9 + 4 + 5 + 1, 0 3 2 1 4 is 9 + 3 + 6 + 2. */
const SOP = `5
0 2 8 9 99
-1 0 5 1 2
-1 6 0 -1 1
-1 4 3 0 7
-1 -1 -1 -1 0
`;

function packedInstance(name: string, text: string): PackedInstance {
  const { value, issues } = readInstance({ instance: { name, text } });
  if (value === undefined || value.kind === 'weldment')
    throw new Error(issues.map((one) => one.problem).join());
  return value;
}
const tiny = packedInstance('tiny.sop', SOP);
const ring = packedInstance(RING, file(RING));

/** Every whole order by the view of a heuristic, with what its moves cost. */
function* orders(
  problem: HeuristicProblem,
  prefix: readonly HeuristicMove[] = [],
): Generator<readonly HeuristicMove[]> {
  if (prefix.length === problem.length) yield prefix;
  else for (const move of problem.next(prefix)) yield* orders(problem, [...prefix, move]);
}
const names = (moves: readonly HeuristicMove[]): readonly string[] => moves.map(({ item }) => item);

describe('the judgement of an order of nodes', () => {
  it.each([
    [['1', '3', '2', '4'], 7],
    [['0', '3', '1', '2', '4'], 19],
    [['3', '2', '1', '4'], 20],
  ])('adds up %j by hand', (order, cost) => {
    expect(tiny.judge(order)).toEqual({ ok: true, value: [cost] });
  });

  it.each([
    [['1', '2', '3', '4'], 'node 2 comes before node 3, which must come before it'],
    [['1', '3', '4', '2'], 'node 4 is not the last'],
    [['1', '3', '4'], 'nodes never come: 2'],
    [['1', '1', '3', '2', '4'], 'node 1 comes twice'],
    [['1', '3', '2', '5'], 'there is no node "5"'],
    [['1', '3', '2', '04'], 'there is no node "04"'],
    [['1', '\u001b[2J'], 'there is no node "\\u001b[2J"'],
    [[], 'nodes never come: 1, 2, 3, 4'],
  ])('refuses %j', (order, error) => {
    expect(
      judgeSop(
        [
          [0, 2, 8, 9, 99],
          [-1, 0, 5, 1, 2],
          [-1, 6, 0, -1, 1],
          [-1, 4, 3, 0, 7],
          [-1, -1, -1, -1, 0],
        ],
        order,
      ),
    ).toEqual({ ok: false, error });
  });
});

describe('the judgement of an order of parts', () => {
  it.each([
    [['a'], 'parts never come: b, c, d, e, f'],
    [['a', 'b', 'c', 'd', 'e', 'f', 'a'], 'part "a" comes twice'],
    [['x'], 'there is no part "x"'],
    [['a', 'c', 'b', 'd', 'e', 'f'], 'order-relations: c joins in stage 2, before b in stage 3: c blocks b'],
  ])('refuses %j', (order, error) => {
    expect(ring.judge(order)).toEqual({ ok: false, error: expect.stringContaining(error) });
  });

  it('finds the same least cost over all orders as the solver, and no order that costs less than its moves', () => {
    const report = bestFirst(ring.problem(), { budget: new Budget({ steps: 1e6 }), memory: 1e8, seed: 1 });
    const judged = new Map<string, readonly number[]>();
    for (const moves of orders(heuristicProblem(ring))) {
      const order = names(moves);
      const cost = judged.get(order.join()) ?? ring.judge(order);
      const value = 'ok' in cost ? (cost.ok ? cost.value : undefined) : cost;
      expect(value, order.join()).toBeDefined();
      judged.set(order.join(), value!);
    }
    const least = [...judged.values()].reduce((a, b) => (lexicographic(a, b) <= 0 ? a : b));
    expect(report.outcome).toBe('optimal');
    expect(report.best!.cost).toEqual(least);
    expect(ring.judge(ring.order(report.best!.steps))).toEqual({ ok: true, value: least });
  });
});

const lexicographic = (a: readonly number[], b: readonly number[]): number => {
  const i = a.findIndex((term, at) => term !== b[at]);
  return i < 0 ? 0 : a[i]! - b[i]!;
};

describe('what a heuristic sees', () => {
  it('has every legal order with its cost, and bounds that hold along it', () => {
    const problem = heuristicProblem(tiny);
    const all = [...orders(problem)];
    expect(all.map((moves) => names(moves).join(' ')).sort()).toEqual(['1 3 2 4', '3 1 2 4', '3 2 1 4']);
    for (const moves of all) {
      const cost = moves.reduce((sum, move) => sum + move.cost[0]!, 0);
      expect(problem.judge(names(moves))).toEqual({ cost: [cost] });
      moves.forEach((_, i) => {
        const rest = moves.slice(i).reduce((sum, move) => sum + move.cost[0]!, 0);
        expect(problem.bound(moves.slice(0, i))[0]!).toBeLessThanOrEqual(rest);
      });
    }
    expect(() => problem.next([{ move: 3, item: '4', cost: [0] }])).toThrow(RangeError);
  });
});

const clock = (): number => 0;
const run = { seed: 1, limits: { seconds: 5, steps: undefined, megabytes: 64 }, clock };

describe('a run of a heuristic', () => {
  const answer = (heuristic: unknown) =>
    runHeuristic(
      tiny,
      () => Promise.resolve(heuristic),
      run,
      new Stopwatch(clock),
      () => undefined,
    );

  it('is judged, and is optimal where the bound of the empty order says so', async () => {
    expect(await answer(() => ['1', '3', '2', '4'])).toMatchObject({ best: [7], steps: 0 });
    expect(await answer(async () => ['3', '1', '2', '4'])).toMatchObject({ outcome: 'feasible', best: [19] });
  });

  it('keeps a better order that it told of on the way', async () => {
    const told: unknown[] = [];
    const heuristic = (_: unknown, { report }: { report: (order: unknown) => boolean }) => {
      told.push(report(['1', '2']), report(['1', '3', '2', '4']), report(['3', '1', '2', '4']), report(7));
      return ['3', '1', '2', '4'];
    };
    expect(await answer(heuristic)).toMatchObject({ best: [7] });
    expect(told).toEqual([false, true, false, false]);
  });

  it.each([
    [
      'throws',
      () => {
        throw new TypeError('no idea');
      },
      'threw TypeError: no idea',
    ],
    ['rejects', () => Promise.reject(new Error('later\nline')), 'threw Error: later'],
    [
      'throws nothing',
      () => {
        throw undefined;
      },
      'threw undefined',
    ],
    ['is no function', 7, 'the default export of the module is not a function'],
    ['answers nothing', () => undefined, 'the answer is not an array of names'],
    ['answers numbers', () => [1, 3, 2, 4], 'the answer is not an array of names'],
    [
      'answers an illegal order',
      () => ['1', '2', '3', '4'],
      'node 2 comes before node 3, which must come before it',
    ],
  ])('that %s fails with the reason', async (_, heuristic, note) => {
    expect(await answer(heuristic)).toMatchObject({ outcome: 'failed', best: undefined, note });
  });
});

describe('a run of a solver', () => {
  it('fails where the judgement contradicts its claim', () => {
    const lying: typeof bestFirst = (problem, options) => {
      const report = bestFirst(problem, options);
      return { ...report, best: { ...report.best!, cost: [6] }, bound: [6] };
    };
    const result = (solver: typeof bestFirst) => runPacked(tiny, solver, run, new Stopwatch(clock));
    expect(result(bestFirst)).toMatchObject({ outcome: 'optimal', best: [7], bound: [7], provedTerms: 1 });
    expect(result(lying)).toMatchObject({
      outcome: 'failed',
      note: expect.stringContaining('costs 7, not 6'),
    });
  });
});

describe('reading instances', () => {
  it('gives equal digests for equal content, whatever the file is called, and others for others', () => {
    expect(packedInstance('other.sop', SOP.replaceAll(' ', '  ')).digest).toBe(tiny.digest);
    expect(packedInstance('tiny.sop', SOP.replace('99', '98')).digest).not.toBe(tiny.digest);
    expect(packedInstance(RING, file(RING).replace('seconds: 14', 'seconds: 15')).digest).not.toBe(
      ring.digest,
    );
  });

  it.each([
    ['notes.txt', 'x', 0, 'does not say what kind of instance this is'],
    [
      'a.sop',
      SOP.replace('-1 6 0 -1 1', '-1 -1 0 3 1').replace('0 5 1 2', '0 5 -1 2').replace('4 3 0', '4 -1 0'),
      3,
      'nodes wait for each other: ',
    ],
    ['a.weldment.yaml', 'parts: [', 1, ''],
  ])('names file and line of what is wrong in %s', (name, text, line, problem) => {
    const { value, issues } = readInstance({ instance: { name, text } });
    expect(value).toBeUndefined();
    expect(issues[0]).toMatchObject({ file: name, problem: expect.stringContaining(problem) });
    if (name !== 'a.sop') expect(issues[0]!.line).toBe(line);
  });
});
