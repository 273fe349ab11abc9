import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { loadLinearPrograms, type LinearPrograms } from '../src/algorithms/linear-program.js';
import { judge } from '../src/mechanics/equilibrium.js';
import { median, row, seconds } from './printing.js';
import { LOADS, tower, towerPrograms } from './tower.js';

export interface StaticsOptions {
  /** Bodies of the towers that are judged. */
  readonly bodies: readonly number[];
  readonly repeats: number;
  /** How long javascript-lp-solver may take over one tower, seconds. */
  readonly patience: number;
}

/** Each work by turns, so that what else the machine does meets all of them; as many runs go first unmeasured. */
const times = (repeats: number, ...works: readonly (() => void)[]): readonly number[][] => {
  const measured = works.map((): number[] => []);
  for (let run = 0; run < 2 * repeats; run += 1)
    works.forEach((work, i) => {
      const taken = seconds(work);
      if (run >= repeats) measured[i]!.push(taken);
    });
  return measured;
};

/** Sets of load cases (gravity and sixteen pushes) on towers of blocks, beside other ways to solve them. */
export async function statics({ bodies, repeats, patience }: StaticsOptions): Promise<void> {
  const programs = await loadLinearPrograms();
  for (const count of bodies) {
    const { system, pushes } = tower(count);
    const [warm, cold] = times(
      repeats,
      () => judge(programs, system, pushes),
      () => judge(programs, system, pushes, { cold: true }),
    ) as [number[], number[]];
    const rate = (1 / median(warm)).toFixed(0);
    const what = count === 1 ? 'one part' : `${count} parts`;
    row(
      `statics, ${what}, set of ${LOADS + 1} loads`,
      warm,
      `${rate} sets/s, ${(median(cold) / median(warm)).toFixed(2)} x as fast as plain HiGHS without warm start`,
    );
    besideJavascript(programs, count, repeats, patience);
  }
}

/** The sixteen programs of a set, each from nothing: HiGHS beside javascript-lp-solver, which must agree to count. */
function besideJavascript(programs: LinearPrograms, count: number, repeats: number, patience: number): void {
  const list = towerPrograms(count);
  const optima = list.map((program) => {
    const outcome = programs.solve(program);
    return outcome.status === 'optimal' ? -outcome.objective : undefined;
  });
  const [highs] = times(repeats, () => list.forEach((program) => programs.solve(program))) as [number[]];
  row(`  ${LOADS} programs, plain HiGHS, each from nothing`, highs);
  const answer = askJavascript(count, patience);
  const name = '  the same by javascript-lp-solver';
  if (!answer) return console.log(`${name.padEnd(52)} no answer within ${patience} s`);
  const wrong = answer.optima.filter((value, i) => !(Math.abs((value ?? NaN) - optima[i]!) < 1e-6));
  const ratio = (answer.seconds / median(highs)).toFixed(2);
  const judged = wrong.length === 0 ? 'all right' : `${wrong.length} of ${LOADS} wrong`;
  row(name, [answer.seconds], `${ratio} x the time of plain HiGHS, ${judged}`);
}

function askJavascript(
  count: number,
  patience: number,
): { readonly seconds: number; readonly optima: readonly (number | null)[] } | undefined {
  const script = join(import.meta.dirname, 'javascript-simplex.ts');
  const { status, stdout } = spawnSync(process.execPath, ['--import', 'tsx', script, `${count}`], {
    encoding: 'utf8',
    timeout: patience * 1000,
  });
  return status === 0 ? (JSON.parse(stdout) as ReturnType<typeof askJavascript>) : undefined;
}
