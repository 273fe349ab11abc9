import { spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { loadLinearPrograms } from '../src/algorithms/linear-program.js';
import { judge } from '../src/mechanics/equilibrium.js';
import { GROUND, type Disturbance, type System } from '../src/mechanics/system.js';

const ROOT = join(import.meta.dirname, '..');
const CELL = 'examples/cells/twin-bench.cell.yaml';
const repeats = Number(process.argv[2] ?? 5);

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
const seconds = (work: () => void): number => {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
};
const row = (name: string, values: readonly number[], note = ''): void =>
  console.log(`${name.padEnd(44)} ${median(values).toFixed(3).padStart(8)} s  ${note}`);

/** Whole process, as a user waits for it: start of node, reading, planning, checking, printing. */
function wholeProcess(name: string, args: readonly string[]): number {
  const times = Array.from({ length: repeats }, () =>
    seconds(() => {
      const { status, stderr } = spawnSync(process.execPath, ['dist/cli/main.js', ...args], {
        cwd: ROOT,
        encoding: 'utf8',
      });
      if (status !== 0) throw new Error(`${name} ended with ${status}: ${stderr}`);
    }),
  );
  row(name, times);
  return median(times);
}

/** A tower of blocks under sixteen pushes: warm starts against solving every load from nothing. */
async function statics(): Promise<void> {
  const programs = await loadLinearPrograms();
  for (const count of [1, 5, 15]) {
    const { system, pushes } = tower(count);
    const times = (cold: boolean): number[] =>
      Array.from({ length: repeats * 4 }, () => seconds(() => judge(programs, system, pushes, { cold })));
    times(false);
    const [warm, plain] = [times(false), times(true)];
    row(
      `statics, ${count} bodies, 16 loads, warm`,
      warm,
      `${(median(plain) / median(warm)).toFixed(2)} x faster than plain HiGHS, load by load`,
    );
  }
}

function tower(count: number): { system: System; pushes: Disturbance[] } {
  const side = 50;
  const square = (z: number) =>
    [
      [-side, -side, z],
      [side, -side, z],
      [side, side, z],
      [-side, side, z],
    ] as const;
  const bodies = Array.from({ length: count }, (_, i) => ({ mass: 2, centre: [0, 0, 20 * i + 10] as const }));
  const bearings = bodies.map((_, i) => ({
    ...{ a: i === 0 ? GROUND : i - 1, b: i, corners: square(20 * i) },
    ...{ normal: [0, 0, 1] as const, friction: 0.3, preload: 0 },
  }));
  const pushes = Array.from({ length: 16 }, (_, i): Disturbance => {
    const angle = (i * Math.PI) / 8;
    const force = [3 * Math.cos(angle), 3 * Math.sin(angle), 0] as const;
    return { name: `push ${i}`, forces: [{ body: count - 1, force, at: [0, 0, 20 * count] }] };
  });
  return { system: { bodies, bearings, links: [], pads: [], holds: [] }, pushes };
}

console.log(
  `Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}, ${repeats} repeats, medians`,
);
const start = wholeProcess('start of the command alone (--help)', ['--help']);
const stand = wholeProcess('plan roller-stand (7 parts), whole process', [
  'plan',
  'examples/roller-stand/roller-stand.weldment.yaml',
  '--cell',
  CELL,
]);
console.log(`${''.padEnd(44)} ${(stand / start).toFixed(1).padStart(8)} times the bare start`);
wholeProcess('plan box-beam (5 parts), whole process', [
  'plan',
  'examples/box-beam/box-beam.weldment.yaml',
  '--cell',
  CELL,
]);
wholeProcess('plan ring-of-six (abstract), whole process', [
  'plan',
  'examples/ring-of-six/ring-of-six.weldment.yaml',
]);
await statics();
