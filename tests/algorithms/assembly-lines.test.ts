import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { countPaths } from '../../src/algorithms/count-paths.js';
import { orderingProblem, type SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { beam } from '../../src/algorithms/solvers/beam.js';
import { Budget } from '../../src/base/budget.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { planAbstract } from '../../src/planning/abstract-plan.js';
import { bareParts } from '../planning/abstract-samples.js';
import { allOrders } from './small-orderings.js';

// Precedence graphs of assembly line balancing; where from is said in ../shared/data/SOURCES.md. Only the graphs are of use
// here: the task times and the published numbers of stations belong to another problem.
const FOLDER = new URL('../../../shared/data/salbp/', import.meta.url);
const present = existsSync(FOLDER);
const GRAPHS = [
  ['HAHN', 53],
  ['LUTZ3', 89],
  ['WEE-MAG', 75],
] as const;

interface PrecedenceGraph {
  readonly tasks: number;
  /** Tasks from 1. */
  readonly arcs: readonly (readonly [earlier: number, later: number])[];
}

/** The number of tasks, their times, then a line a pair, up to -1,-1. */
function graph(name: string): PrecedenceGraph {
  const lines = readFileSync(new URL(`${name}.IN2`, FOLDER), 'utf8')
    .split(/\r?\n/)
    .map((line) => line.trim());
  const tasks = Number(lines[0]);
  const pairs = lines.slice(1 + tasks).map((line) => line.split(',').map(Number));
  const end = pairs.findIndex(([a]) => a === -1);
  return { tasks, arcs: pairs.slice(0, end).map(([a, b]) => [a!, b!] as const) };
}

/** Node 0 and the last node are the ends; every step costs the same, so that every legal order is an optimum. */
function ordering({ tasks, arcs }: PrecedenceGraph, step = 3): SequentialOrdering {
  const cost = Array.from({ length: tasks + 2 }, (_, i) =>
    Array.from({ length: tasks + 2 }, (__, j) => (i === j ? 0 : step)),
  );
  for (const [a, b] of arcs) cost[b]![a] = -1;
  return { cost };
}

/** The first tasks of some legal order, and the arcs between them, numbered anew. */
function prefix({ tasks, arcs }: PrecedenceGraph, size: number): PrecedenceGraph {
  const taken: number[] = [];
  while (taken.length < size) {
    for (let task = 1; task <= tasks && taken.length < size; task += 1) {
      const ready = arcs.every(([a, b]) => b !== task || taken.includes(a));
      if (ready && !taken.includes(task)) taken.push(task);
    }
  }
  const number = new Map(taken.map((task, i) => [task, i + 1]));
  const inside = arcs.filter(([a, b]) => number.has(a) && number.has(b));
  return { tasks: size, arcs: inside.map(([a, b]) => [number.get(a)!, number.get(b)!] as const) };
}

const respects = (order: readonly number[], { tasks, arcs }: PrecedenceGraph): void => {
  expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: tasks }, (_, i) => i + 1));
  for (const [a, b] of arcs) expect(order.indexOf(a)).toBeLessThan(order.indexOf(b));
};

const options = () => ({ budget: new Budget({ steps: 2000 }), memory: 2 ** 26, seed: 1 });

const title = `assembly line precedence graphs${present ? '' : ': left out, ../shared/data/salbp is absent'}`;

describe.skipIf(!present)(title, () => {
  it.each(GRAPHS)('%s, %i tasks: an order is found at once and proved', (name, tasks) => {
    const read = graph(name);
    expect(read.tasks).toBe(tasks);
    expect(read.arcs.length).toBeGreaterThan(tasks / 2);
    const report = beam(orderingProblem(ordering(read)), options());
    expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [3 * (tasks + 1)] } });
    const nodes = report.best!.steps.map((move) => move + 1);
    expect(nodes.at(-1)).toBe(tasks + 1);
    respects(nodes.slice(0, -1), read);
    expect(report.counters.expanded).toBeLessThanOrEqual(2 * (tasks + 2));
  });

  it.each(GRAPHS)('%s as the needs of a weldment without shapes', (name, tasks) => {
    const read = graph(name);
    const weldment = bareParts(tasks, {
      needs: read.arcs.map(([a, b]) => ({ part: `p${b - 1}`, after: [`p${a - 1}`] })),
    });
    const report = planAbstract(weldment, DEFAULT_SETTINGS, { budget: new Budget({ steps: 2000 }) });
    expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [0, 0, 0] } });
    respects(
      report.best!.steps.map(({ part }) => Number(part.slice(1)) + 1),
      read,
    );
  });

  it.each(GRAPHS)('%s: the orders of its first tasks are as many as a listing finds', (name) => {
    const read = graph(name);
    for (const size of [1, 4, 6, 7]) {
      const first = ordering(prefix(read, size));
      const counted = countPaths(orderingProblem(first), new Budget({ steps: 100_000 }));
      expect(counted).toEqual({ ok: true, value: BigInt(allOrders(first).length) });
    }
  });
});
