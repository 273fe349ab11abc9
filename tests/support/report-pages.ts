import { canonicalText } from '../../src/io/canonical.js';
import type { Plan } from '../../src/model/plan.js';
import { reportPlan } from '../../src/session/report.js';
import type { Sources } from '../../src/session/inputs.js';
import { builtAssets } from './page-assets.js';
import { sourcesOf, type Files, type Planner } from './planned.js';

/** The page of the plan of files that must have one, judged again. */
export async function pageOf(files: Files, planner: Planner): Promise<{ plan: Plan; html: string }> {
  const plan = planner.plan(files);
  return { plan, html: await pageOfPlan(plan, sourcesOf(files), planner) };
}

/** The page of a plan for its own files. */
export async function pageOfPlan(plan: Plan, sources: Sources, { programs }: Planner): Promise<string> {
  const source = { text: canonicalText(plan), name: 'plan.json' };
  const outcome = reportPlan(source, sources, {
    ...{ programs, assets: await builtAssets() },
    ...{ judge: true, why: true },
  });
  if (outcome.kind !== 'reported' || outcome.page === undefined)
    throw new Error(JSON.stringify(outcome).slice(0, 2000));
  if (outcome.findings.length > 0) throw new Error(JSON.stringify(outcome.findings.slice(0, 5)));
  return outcome.page;
}
