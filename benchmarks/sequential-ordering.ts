import { existsSync, readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { pathToFileURL } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { orderingProblem, type SequentialOrdering } from '../src/algorithms/sequential-ordering.js';
import { combined } from '../src/algorithms/solvers/combined.js';
import { Budget } from '../src/base/budget.js';
import { parseSop } from '../src/io/sop.js';

export interface OrderingOptions {
  /** Instances by name; all of a folder when absent. */
  readonly names?: readonly string[];
  /** How long each may take, seconds. */
  readonly patience: number;
}

interface Run {
  readonly name: string;
  readonly nodes: number;
  readonly best: number;
  readonly bound: number;
  readonly known: number;
  readonly first: number;
  readonly toBest: number;
  /** Until the proof, or infinite. */
  readonly proof: number;
}

const DATA = new URL('../../shared/data/', import.meta.url);
const MEMORY = 2 ** 30;
/** Proofs wanted of a folder, as [instances, seconds each]. */
const TARGETS = {
  'sop-tsplib': [
    [12, 5],
    [16, 120],
    [18, 600],
  ],
  'sop-soplib': [[4, 10]],
} as const;

type Folder = keyof typeof TARGETS;

/**
 * Published sequential ordering instances, from cold on one thread, without a best-known value: what is found and proved
 * in what time. The seconds of the process are taken, since the machine may be busy with other things.
 */
export function sequentialOrdering({ names, patience }: OrderingOptions): void {
  for (const folder of ['sop-tsplib', 'sop-soplib'] as const) {
    if (!existsSync(new URL(folder, DATA))) {
      console.log(`sequential ordering, ${folder}: left out, the folder is absent`);
      continue;
    }
    const rows = readFileSync(new URL(`${folder}/best-known.csv`, DATA), 'utf8')
      .trim()
      .split('\n')
      .slice(1);
    const chosen = rows
      .map((row) => row.split(','))
      .filter(([name]) => names === undefined || names.includes(name!));
    if (chosen.length === 0) continue;
    console.log(`sequential ordering, ${folder}, ${patience} s of the processor each at most`);
    console.log(line(['instance', 'nodes', 'best', 'bound', 'known', 'first s', 'best s', 'proof s']));
    const runs = chosen.map((columns) => run(folder, columns[0]!, Number(columns.at(-1)), patience));
    summary(folder, runs, patience);
  }
}

function run(folder: Folder, name: string, known: number, patience: number): Run {
  const instance = read(folder, name);
  const before = process.cpuUsage();
  const clock = (): number => process.cpuUsage(before).user / 1e6;
  const times: number[] = [];
  const report = combined(orderingProblem(instance), {
    budget: new Budget({ steps: Infinity, seconds: patience, clock: seldom(clock) }),
    memory: MEMORY,
    seed: 1,
    onImprovement: () => times.push(clock()),
  });
  const proof = report.outcome === 'optimal' ? clock() : Infinity;
  const best = report.best?.cost[0] ?? Infinity;
  const [first, toBest] = [times[0] ?? Infinity, times.at(-1) ?? Infinity];
  const shown = [first, toBest, proof].map((time) => (time === Infinity ? '-' : time.toFixed(2)));
  const nodes = instance.cost.length;
  console.log(line([name, ...[nodes, best, report.bound[0]!, known].map(String), ...shown]));
  return { name, nodes, best, bound: report.bound[0]!, known, first, toBest, proof };
}

function read(folder: string, name: string): SequentialOrdering {
  const plain = new URL(`${folder}/${name}.sop`, DATA);
  const text = existsSync(plain)
    ? readFileSync(plain, 'utf8')
    : gunzipSync(readFileSync(new URL(`${folder}/${name}.sop.gz`, DATA))).toString('utf8');
  const parsed = parseSop(text, name);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

function summary(folder: Folder, runs: readonly Run[], patience: number): void {
  for (const [wanted, seconds] of TARGETS[folder]) {
    const proved = runs.filter(({ proof }) => proof <= seconds).length;
    const note = seconds > patience ? ` (only ${patience} s were given)` : '';
    console.log(`  proved in ${seconds} s each: ${proved} of ${runs.length}, ${wanted} wanted${note}`);
  }
  const near = runs.filter(({ best, known }) => best <= 1.01 * known).length;
  console.log(`  within 1 % of the best known value after ${patience} s: ${near} of ${runs.length}`);
  const wrong = runs.filter(
    ({ best, bound, known, proof }) => bound > known || (proof < Infinity && best > known),
  );
  for (const { name } of wrong) console.log(`  ${name}: the bound is above the best known value`);
}

/** Looks at a dear clock every eighth time. */
function seldom(clock: () => number): () => number {
  let [asked, seen] = [0, 0];
  return () => {
    if (asked % 8 === 0) seen = clock();
    asked += 1;
    return seen;
  };
}

const line = (cells: readonly string[]): string =>
  `  ${cells.map((cell, i) => (i === 0 ? cell.padEnd(14) : cell.padStart(9))).join('')}`;

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(`Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`);
  const names = process.argv[3]?.split(',');
  sequentialOrdering({ patience: Number(process.argv[2] ?? 60), ...(names === undefined ? {} : { names }) });
}
