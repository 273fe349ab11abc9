import { existsSync } from 'node:fs';
import type * as Ordering from '../../src/algorithms/sequential-ordering.js';
import type * as Beam from '../../src/algorithms/solvers/beam.js';
import { Budget } from '../../src/base/budget.js';
import type * as Problem from '../../src/planning/abstract-problem.js';
import type { Answer, Contestant } from './contestants.js';

const ROOT = new URL('../../', import.meta.url);

/** What `npm run build` leaves behind is loaded where it is present: as a user runs it, without a compiler on the way. */
export const LOADED_FROM: 'dist' | 'src' = existsSync(new URL('dist/planning/abstract-problem.js', ROOT))
  ? 'dist'
  : 'src';

const loader =
  (from: 'dist' | 'src') =>
  async <Module>(name: string): Promise<Module> =>
    (await import(new URL(`${from}/${name}.${from === 'dist' ? 'js' : 'ts'}`, ROOT).href)) as Module;

const clock = (): number => performance.now() / 1000;

/** As `plan` gives it. */
const MEMORY = 2 ** 29;

/** Our search with all that it needs loaded: the beam, which `plan` takes for weldments without shapes. */
export async function loadOurs(from = LOADED_FROM): Promise<Contestant> {
  const load = loader(from);
  const { AbstractProblem } = await load<typeof Problem>('planning/abstract-problem');
  const { beam } = await load<typeof Beam>('algorithms/solvers/beam');
  const { orderingProblem } = await load<typeof Ordering>('algorithms/sequential-ordering');
  return {
    weldment: (weldment, objective, patience) =>
      timed(patience, (budget, onFirst) => {
        const problem = new AbstractProblem(weldment, objective, 'needed');
        const report = beam(problem, { budget, memory: MEMORY, seed: 1, onImprovement: onFirst });
        return { ...report, plan: report.best && problem.steps(report.best.steps) };
      }),
    ordering: (instance, patience) =>
      timed(patience, (budget, onFirst) => {
        const problem = orderingProblem(instance);
        const report = beam(problem, { budget, memory: MEMORY, seed: 1, onImprovement: onFirst });
        // A move does the node after its own number; node 0 is where every order begins.
        return { ...report, plan: report.best && [0, ...report.best.steps.map((move) => move + 1)] };
      }),
  };
}

function timed<Step>(
  patience: number,
  solve: (
    budget: Budget,
    onFirst: () => void,
  ) => { readonly outcome: string; readonly plan: readonly Step[] | undefined },
): Answer<readonly Step[]> {
  const started = clock();
  let firstAfter: number | undefined;
  const budget = new Budget({ steps: Infinity, seconds: patience, clock });
  const { outcome, plan } = solve(budget, () => (firstAfter ??= clock() - started));
  if (outcome === 'impossible') return { status: 'infeasible' };
  if (outcome !== 'optimal') return { status: 'out of time' };
  return { status: 'optimal', plan: plan!, firstAfter: firstAfter ?? clock() - started };
}
