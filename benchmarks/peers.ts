import { readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { ask, type Taken } from './peers/ask.js';
import { PEERS, type PeerName } from './peers/contestants.js';
import { minizincVersion } from './peers/minizinc.js';
import { LOADED_FROM } from './peers/ours.js';
import type { Kind, Task } from './peers/task.js';
import { median } from './printing.js';

/**
 * The same instances proved by our search, by HiGHS in two formulations and by MiniZinc with Gecode, each in a process of
 * its own. All answers are judged, and must cost the same: the exit code is 1 when any two differ.
 *
 *     node --import tsx benchmarks/peers.ts [seeds] [seconds for each] [quick]
 */
const seeds = Number(process.argv[2] ?? 5);
const patience = Number(process.argv[3] ?? 60);
const quick = process.argv[4] === 'quick';
const SIZES: Readonly<Record<Kind, readonly number[]>> = quick
  ? { weldment: [6], ordering: [6] }
  : { weldment: [8, 10, 12, 14], ordering: [10, 12, 14, 16] };
/** Ours is warm after some rounds of the compiler inside node; HiGHS is compiled beforehand and MiniZinc never warm. */
const AGAIN: Readonly<Record<Task['who'], number>> = { ours: 21, positions: 1, arcs: 1, minizinc: 0 };
const TITLES: Readonly<Record<Task['who'], string>> = {
  ours: 'ours',
  positions: 'HiGHS, positions',
  arcs: 'HiGHS, arcs',
  minizinc: 'MiniZinc with Gecode',
};

function highsVersion(): string {
  const file = new URL('../node_modules/highs/package.json', import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { version: string }).version;
}

const text = (seconds: number): string =>
  seconds < 0.1 ? `${(1000 * seconds).toFixed(2)} ms` : `${seconds.toFixed(2)} s `;

/** Medians over the seeds; a limit that was met makes a median that is at least what it says. */
function print(who: Task['who'], all: readonly Taken[]): void {
  const proved = all.filter(({ cost }) => cost !== undefined);
  const columns = [
    ...(['load', 'cold', 'warm'] as const).map((which) => text(median(all.map((one) => one[which])))),
    proved.length === 0 ? '-' : text(median(proved.map(({ first }) => first!))),
  ];
  const note = proved.length < all.length ? `  ${proved.length} of ${all.length} within ${patience} s` : '';
  console.log(`  ${TITLES[who].padEnd(22)}${columns.map((column) => column.padStart(12)).join('')}${note}`);
}

/** How many times as long the fastest peer of each instance took: with loading, without it, and when we are warm. */
function ratios(ours: readonly Taken[], others: readonly (readonly Taken[])[]): void {
  const least = (value: (one: Taken) => number, i: number): number =>
    Math.min(...others.map((all) => value(all[i]!)));
  const shown = (own: (one: Taken) => number, other: (one: Taken) => number): string => {
    const all = ours.map((one, i) => least(other, i) / own(one));
    return `${median(all).toFixed(1)} x (${Math.min(...all).toFixed(1)} to ${Math.max(...all).toFixed(1)})`;
  };
  const whole = ({ load, cold }: Taken): number => load + cold;
  const [cold, warm] = [({ cold: time }: Taken) => time, ({ warm: time }: Taken) => time];
  console.log(
    `  the better peer takes  ${shown(whole, whole)} with loading, ${shown(cold, cold)} loaded but cold,`,
  );
  console.log(`                         ${shown(warm, warm)} warm`);
  const firsts = ours.map(({ first, cold: time }) => (first ?? time) / time);
  console.log(`  our first plan after   ${(100 * median(firsts)).toFixed(0)} % of our time to proof`);
}

function compare(kind: Kind, size: number, peers: readonly PeerName[]): void {
  console.log(
    `${kind}s of ${size}`.padEnd(24) +
      ['loading', 'cold', 'warm', 'first plan'].map((t) => t.padStart(12)).join(''),
  );
  const numbers = Array.from({ length: seeds }, (_, i) => i + 1);
  const by = (who: Task['who']): readonly Taken[] => {
    const all = numbers.map((seed) => ask({ kind, who, size, seed, patience, again: AGAIN[who] }));
    print(who, all);
    return all;
  };
  const ours = by('ours');
  const others = peers.map(by);
  numbers.forEach((seed, i) => {
    const costs = [ours, ...others].flatMap((all) => all[i]!.cost ?? []);
    if (new Set(costs).size <= 1) return;
    console.error(`ERROR: ${kind} of ${size}, seed ${seed}: the answers differ: ${costs.join(' | ')}`);
    process.exitCode = 1;
  });
  ratios(ours, others);
}

const minizinc = minizincVersion();
console.log(
  `Node ${process.version}, HiGHS ${highsVersion()} (WebAssembly), MiniZinc ${minizinc ?? 'not installed: left out'}, ` +
    `${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`,
);
console.log(`seeds 1 to ${seeds}, ${patience} s for each, medians; our code loaded from ${LOADED_FROM}`);
const peers = PEERS.filter((name) => name !== 'minizinc' || minizinc !== undefined);
for (const kind of ['weldment', 'ordering'] as const)
  for (const size of SIZES[kind]) compare(kind, size, peers);
