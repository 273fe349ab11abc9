import { join } from 'node:path';
import type { FamilyPool as Pool } from '../src/cli/family-pool.js';
import { readFamilyFiles } from '../src/cli/family-source.js';
import { planFamily } from '../src/family/run.js';
import type { FamilyTask } from '../src/family/task.js';

const ROOT = join(import.meta.dirname, '..');
/** Threads run what is built. */
const POOL = new URL('../dist/cli/family-pool.js', import.meta.url).href;

interface Built {
  readonly FamilyPool: typeof Pool;
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** How long the tasks of a kind took, each on its thread. */
const told = (name: string, times: readonly number[]): string =>
  `${times.length} ${name}, ${meanOf(times).toFixed(2)} s each`;

/**
 * The variants of an example family, each planned by itself and by every pattern that one of these plans has, and covered
 * by the fewest patterns, on some threads: the seconds from the files read to the covering, and what following a pattern
 * takes of what planning by itself takes. Only the table of the family, without its ranges.
 * @param most variants at most
 * @param quick whether a pattern that is least before the time is enough
 */
export async function families(
  name: string,
  threads: number,
  { most = Infinity, quick = false }: { readonly most?: number; readonly quick?: boolean } = {},
): Promise<void> {
  const { FamilyPool } = (await import(POOL)) as Built;
  const file = join(ROOT, `examples/families/${name}.family.yaml`);
  const cell = join(ROOT, 'examples/cells/twin-bench.cell.yaml');
  const { inputs, shared, issues } = await readFamilyFiles(file, { cell });
  if (inputs === undefined || shared === undefined)
    throw new Error(issues.map(({ problem }) => problem).join());
  const { family } = inputs;
  const table = {
    ...family,
    parameters: family.parameters.map((parameter) => ({ ...parameter, range: undefined })),
    variants: family.variants.slice(0, most),
  };
  const times: Record<FamilyTask['kind'], number[]> = { own: [], follow: [] };
  const pool = new FamilyPool(threads, shared, ({ kind }, seconds) => times[kind].push(seconds));
  const begun = performance.now();
  const outcome = await planFamily(
    { ...inputs, family: table },
    { run: (task) => pool.run(task), samples: 0, seed: 1, quick },
  );
  const whole = (performance.now() - begun) / 1000;
  await pool.close();
  if (outcome.kind !== 'planned') throw new Error('the family was not planned to the end');
  const { covering, patterns } = outcome.result;
  const share = meanOf(times.follow) / meanOf(times.own);
  console.log(
    `${`family ${name}, ${table.variants.length} variants, ${threads} threads${quick ? ', quick' : ''}`.padEnd(52)} ${whole.toFixed(1).padStart(9)} s  ` +
      `${told('by themselves', times.own)}; ${told('by a pattern', times.follow)}, ${(100 * share).toFixed(0)} % of that; ` +
      `${covering.chosen.length} of ${patterns.length} patterns cover ${table.variants.length - covering.uncovered.length}`,
  );
}
