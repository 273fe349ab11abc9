import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { settingsSchema } from '../src/model/settings.js';
import { readInputs, type Source, type Sources } from '../src/session/inputs.js';
import { planSession } from '../src/session/plan.js';
import { row, seconds } from './printing.js';

const EXAMPLES = join(import.meta.dirname, '..', 'examples');
/** The cell of an example: the longer bench where the parts are too far apart for the other. */
export const cellOf = (example: string): string =>
  join('examples', 'cells', `${example === 'machine-sub-frame' ? 'long' : 'twin'}-bench.cell.yaml`);

const source = (path: string): Source => ({ text: readFileSync(path, 'utf8'), name: path });

/** The examples that have shapes, each with its cell. */
export function shapedExamples(): readonly { readonly name: string; readonly sources: Sources }[] {
  return readdirSync(EXAMPLES).flatMap((name) => {
    const own = join(EXAMPLES, name, name);
    if (!existsSync(`${own}.weldment.yaml`)) return [];
    const sources = {
      weldment: source(`${own}.weldment.yaml`),
      cell: source(join(EXAMPLES, '..', cellOf(name))),
    };
    return readInputs(sources).inputs?.weldment.kind === 'geometric' ? [{ name, sources }] : [];
  });
}

/** Positions per face axis: the default, and as many as halve the distance between them; undefined without the setting. */
function densities(): readonly [number, number] | undefined {
  const { grips } = settingsSchema.parse({}) as { readonly grips?: { readonly density?: number } };
  const plain = grips?.density;
  if (plain === undefined) return undefined;
  const twice = 2 * plain - 1;
  return settingsSchema.safeParse({ grips: { density: twice } }).success ? [plain, twice] : undefined;
}

/** What twice as many positions of grips a face axis do to regrips and time; nothing where there is no such setting. */
export function gripDensity(programs: LinearPrograms, names?: readonly string[]): void {
  const pair = densities();
  if (!pair) return;
  for (const { name, sources } of shapedExamples()) {
    if (names && !names.includes(name)) continue;
    let plainTime: number | undefined;
    for (const density of pair) {
      const settings = { text: JSON.stringify({ grips: { density } }), name: 'settings.json' };
      let said = 'no plan';
      const time = seconds(() => {
        const outcome = planSession({ ...sources, settings }, { programs });
        if (outcome.kind !== 'planned' || outcome.plan.kind !== 'geometric') return;
        const { objective, proof } = outcome.plan;
        const regrips = objective.find(({ term }) => term === 'regrips')!.value;
        said = `${regrips} regrips, ${(proof.scope as { grips?: number }).grips} grips looked at`;
      });
      const ratio = plainTime === undefined ? '' : `, ${(time / plainTime).toFixed(2)} x the time`;
      row(`plan ${name}, ${density} grips a face axis`, [time], `${said}${ratio}`);
      plainTime ??= time;
    }
  }
}
