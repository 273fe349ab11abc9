import { existsSync, readFileSync } from 'node:fs';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import type { Weldment } from '../../src/model/weldment.js';
import { readInputs, type Source, type Sources } from '../../src/session/inputs.js';
import { planSession } from '../../src/session/plan.js';
import { planIn } from './planned.js';

/** A plan with what it was planned for, as the checker is given them. */
export interface StoryPlan {
  readonly weldment: Weldment;
  readonly cell: Cell;
  readonly plan: GeometricPlan;
}

function sourcesOf(story: string): Sources {
  const folder = new URL(`../stories/${story}/`, import.meta.url);
  const source = (name: string, or?: string): Source | undefined => {
    const own = new URL(name, folder);
    if (!existsSync(own)) return or === undefined ? undefined : source(or);
    return { text: readFileSync(own, 'utf8'), name };
  };
  return {
    weldment: source('weldment.yaml')!,
    cell: source('cell.yaml', '../bench.cell.yaml'),
    settings: source('settings.yaml'),
  };
}

/** Plans a story that has a plan; with settings, by these instead of its own. */
export function storyPlan(story: string, programs: LinearPrograms, settings?: string): StoryPlan {
  const sources = {
    ...sourcesOf(story),
    ...(settings !== undefined && { settings: { text: settings, name: 'settings.yaml' } }),
  };
  const { inputs } = readInputs(sources);
  if (inputs?.weldment.kind !== 'geometric' || !inputs.cell) throw new Error(`${story} has no shapes`);
  const plan = planIn(planSession(sources, { programs }));
  return {
    weldment: inputs.weldment,
    cell: inputs.cell,
    plan: JSON.parse(JSON.stringify(plan)) as GeometricPlan,
  };
}
