import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import type { OrderFound, OrderingModel } from './ordering-model.js';
import type { WeldmentModel } from './weldment-model.js';
import type { StagesFound } from './weldment-positions.js';

/** The line of `minizinc --version` that says which; undefined where it is not installed. */
export function minizincVersion(): string | undefined {
  const { status, stdout } = spawnSync('minizinc', ['--version'], { encoding: 'utf8' });
  return status === 0 ? /version [\d.]+/.exec(stdout)?.[0].replace('version ', '') : undefined;
}

interface Ran {
  readonly status: 'optimal' | 'infeasible' | 'out of time';
  /** What was printed for the last solution. */
  readonly last: string;
  readonly firstAfter: number;
}

/** A model of this folder with Gecode on one thread, all improvements printed with their time. */
function run(model: string, data: readonly string[], patience: number): Ran {
  const limit = String(Math.round(1000 * patience));
  const { status, stdout, stderr } = spawnSync(
    'minizinc',
    [
      ...['--solver', 'gecode', '--all-solutions', '--output-time', '--time-limit', limit],
      ...[join(import.meta.dirname, model), '--cmdline-data', data.join(' ')],
    ],
    { encoding: 'utf8', timeout: 1000 * (patience + 30) },
  );
  if (status !== 0) throw new Error(`MiniZinc ended with ${status}: ${stdout}${stderr}`);
  if (stdout.includes('=====UNSATISFIABLE=====')) return { status: 'infeasible', last: '', firstAfter: 0 };
  const last = stdout.split('----------').at(-2) ?? '';
  const firstAfter = Number(/time elapsed: ([\d.]+) s/.exec(stdout)?.[1] ?? NaN);
  return { status: stdout.includes('==========') ? 'optimal' : 'out of time', last, firstAfter };
}

const list = (values: readonly (number | string | boolean)[]): string => `[${values.join(',')}]`;
const numbersFrom1 = (values: readonly number[]): string => `{${values.map((value) => value + 1).join(',')}}`;
const readLists = (text: string): readonly (readonly number[])[] =>
  [...text.matchAll(/\[([\d, ]+)\]/g)].map(([, inner]) =>
    inner!.split(',').map((value) => Number(value) - 1),
  );

const orderData = ({ covers, earliest, latest }: WeldmentModel['precedence']): readonly string[] => [
  `n = ${earliest.length};`,
  `after = ${list(earliest.map((_, i) => numbersFrom1(covers.flatMap(([a, b]) => (b === i ? [a] : [])))))};`,
  `earliest = ${list(earliest.map((place) => place + 1))};`,
  `latest = ${list(latest.map((place) => place + 1))};`,
];

/** `weldment.mzn` with the data of a weldment. */
export function weldmentByMiniZinc(model: WeldmentModel, patience: number): StagesFound {
  const { ids, grippers, precedence, touching, taken, change } = model;
  const costs = taken.flatMap((row) => row.map((way) => way?.cost ?? -1));
  const data = [
    ...orderData(precedence),
    `grippers = ${grippers.length};`,
    `grounded = ${list(touching.map((others) => others === undefined))};`,
    `touching = ${list(touching.map((others) => numbersFrom1(others ?? [])))};`,
    `cost = array2d(1..${ids.length}, 1..${grippers.length}, ${list(costs)});`,
    `change = ${change};`,
  ];
  const { status, last, firstAfter } = run('weldment.mzn', data, patience);
  if (status !== 'optimal') return { status };
  const [order, grips] = readLists(last);
  return { status, stages: order!.map((part, k) => [part, grips![k]!] as const), firstAfter };
}

/** `ordering.mzn` with the data of an instance. */
export function orderingByMiniZinc({ precedence, arcs }: OrderingModel, patience: number): OrderFound {
  const size = precedence.earliest.length;
  const costs = new Array<number>(size * size).fill(-1);
  for (const { from, to, cost } of arcs) costs[from * size + to] = cost;
  const data = [...orderData(precedence), `cost = array2d(1..${size}, 1..${size}, ${list(costs)});`];
  const { status, last, firstAfter } = run('ordering.mzn', data, patience);
  return status === 'optimal' ? { status, order: readLists(last)[0]!, firstAfter } : { status };
}
