import { existsSync, readFileSync } from 'node:fs';
import * as highsPackage from 'highs';
import type { DisjunctiveProblem, ScheduleReport } from '../src/algorithms/disjunctive-problem.js';
import { leastMakespan } from '../src/algorithms/disjunctive.js';
import { parseJobShop } from '../src/algorithms/job-shop.js';
import { Budget } from '../src/base/budget.js';
import { seededRandom } from '../src/base/random.js';
import { median, row, seconds } from './printing.js';

export interface JobShopOptions {
  /** Published instances solved by both; left out, and said so, where the files are absent. */
  readonly published: readonly string[];
  /** Published instances for the scheduler alone. */
  readonly alone: readonly string[];
  /** Jobs and machines of seeded instances of our own. */
  readonly own: readonly (readonly [jobs: number, machines: number])[];
  readonly repeats: number;
  /** How long HiGHS may take over one instance, seconds. */
  readonly patience: number;
}

/** HiGHS with its mixed-integer solver. */
export const loadHighs = (): Promise<Highs> =>
  (highsPackage.default as unknown as typeof highsPackage.default.default)();

const FOLDER = new URL('../../shared/data/jsp/', import.meta.url);

/** Proofs of least makespans, beside HiGHS on the mixed-integer program of the same instance. */
export async function jobShop({ published, alone, own, repeats, patience }: JobShopOptions): Promise<void> {
  const highs = await loadHighs();
  for (const [jobs, machines] of own) {
    const problem = ownInstance(jobs, machines);
    beside(highs, `job-shop ${jobs} x ${machines} of our own`, problem, repeats, patience);
  }
  if (!existsSync(FOLDER))
    return console.log('job-shop, published instances: left out, the folder is absent');
  for (const name of published) beside(highs, `job-shop ${name}`, publishedInstance(name), repeats, patience);
  for (const name of alone) proof(`job-shop ${name}`, publishedInstance(name), 1);
}

function publishedInstance(name: string): DisjunctiveProblem {
  const parsed = parseJobShop(readFileSync(new URL(`${name}.txt`, FOLDER), 'utf8'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

function ownInstance(jobs: number, machines: number): DisjunctiveProblem {
  const random = seededRandom(jobs * 100 + machines);
  const rows = Array.from({ length: jobs }, () =>
    Array.from({ length: machines }, (_, machine) => ({ machine, key: random(), time: 1 + random() * 98 }))
      .sort((a, b) => a.key - b.key)
      .map(({ machine, time }) => `${machine} ${Math.floor(time)}`)
      .join(' '),
  );
  const parsed = parseJobShop([`${jobs} ${machines}`, ...rows].join('\n'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

function proof(
  name: string,
  problem: DisjunctiveProblem,
  repeats: number,
): { time: number; report: ScheduleReport } {
  let report: ScheduleReport | undefined;
  const times = Array.from({ length: repeats }, () =>
    seconds(() => (report = leastMakespan(problem, { budget: new Budget({ steps: 1e7 }) }))),
  );
  const { outcome, best, bound, nodes } = report!;
  const note = `${outcome}, makespan ${best?.makespan}, bound ${bound}, ${nodes} nodes`;
  row(`${name}, scheduler`, times, note);
  return { time: median(times), report: report! };
}

export function beside(
  highs: Highs,
  name: string,
  problem: DisjunctiveProblem,
  repeats: number,
  patience: number,
): void {
  const { time, report } = proof(name, problem, repeats);
  let makespan: number | undefined;
  const taken = seconds(() => (makespan = leastByHighs(highs, problem, patience)));
  const title = '  the same by HiGHS, mixed-integer with big M';
  if (makespan === undefined) return console.log(`${title.padEnd(52)} no proof within ${patience} s`);
  const judged =
    Math.abs(makespan - report.best!.makespan) < 1e-6 ? 'the same makespan' : `makespan ${makespan}`;
  row(title, [taken], `${(taken / time).toFixed(1)} x the time, ${judged}`);
}

type Highs = Awaited<ReturnType<typeof highsPackage.default.default>>;

/**
 * Starts, the makespan, and a binary for each pair of spans of a resource (Manne 1960); M is the sum of all durations.
 * Nothing where HiGHS has no proof in time.
 */
function leastByHighs(highs: Highs, problem: DisjunctiveProblem, patience: number): number | undefined {
  const { durations, arcs } = problem;
  const size = durations.length;
  const total = durations.reduce((sum, duration) => sum + duration, 0);
  const pairs = problem.resources.flatMap(({ spans }) =>
    spans.flatMap((a, i) => spans.slice(i + 1).map((b) => ({ a, b }))),
  );
  const columns = size + 1 + pairs.length;
  const rows = [
    ...durations.map((duration, i) => ({ at: [i, size], by: [-1, 1], least: duration })),
    ...arcs.map(({ from, to, lag }) => ({ at: [from, to], by: [-1, 1], least: lag })),
    ...pairs.flatMap(({ a, b }, i) => [
      { at: [a.last, b.first, size + 1 + i], by: [-1, 1, total], least: durations[a.last]! },
      { at: [b.last, a.first, size + 1 + i], by: [-1, 1, -total], least: durations[b.last]! - total },
    ]),
  ];
  let next = 0;
  const starts = Int32Array.from([0, ...rows.map(({ at }) => (next += at.length))]);
  const model = highs.createModel();
  model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0, time_limit: patience });
  model.passModel({
    numCols: columns,
    numRows: rows.length,
    sense: highs.constants.objectiveSense.minimize,
    colCost: Float64Array.from({ length: columns }, (_, i) => (i === size ? 1 : 0)),
    colLower: new Float64Array(columns),
    colUpper: Float64Array.from({ length: columns }, (_, i) => (i > size ? 1 : total)),
    rowLower: Float64Array.from(rows, ({ least }) => least),
    rowUpper: new Float64Array(rows.length).fill(Infinity),
    matrix: {
      format: 'csr',
      numRows: rows.length,
      numCols: columns,
      starts,
      indices: Int32Array.from(rows.flatMap(({ at }) => at)),
      values: Float64Array.from(rows.flatMap(({ by }) => by)),
    },
    integrality: Int32Array.from({ length: columns }, (_, i) => (i > size ? 1 : 0)),
  });
  const proved = model.run().modelStatus === highs.constants.modelStatus.optimal;
  const makespan = proved ? model.getSolution().colValue[size] : undefined;
  model.dispose();
  return makespan;
}
