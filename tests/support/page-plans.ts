import { expect } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import type { Weldment } from '../../src/model/weldment.js';
import { buildScene } from '../../src/model/scene.js';
import type { GeometricContext } from '../../src/report/page/page-context.js';
import { checkGeometric } from '../../src/rules/check.js';
import { contextOf, handMadePlan } from './hand-made-plan.js';
import { example, inputsOf, Planner, type ExampleName } from './planned.js';
import { storyPlan } from './story-plan.js';
import { testCell } from './cell.js';
import { standWeldment } from './stand-weldment.js';

/** What a page is told of a plan that is for these files, whether or not it keeps the rules. */
export const pageContext = (plan: GeometricPlan, weldment: Weldment, cell: Cell): GeometricContext => ({
  ...{ findings: undefined, why: [], plan, cell },
  scene: buildScene(weldment, cell, plan.settings),
});

/** The same of a plan that must keep every rule. */
function soundContext(
  plan: GeometricPlan,
  weldment: Weldment,
  cell: Cell,
  programs: LinearPrograms,
): GeometricContext {
  expect(checkGeometric(contextOf(plan, programs, weldment, cell))).toEqual([]);
  return pageContext(plan, weldment, cell);
}

export function storyPage(story: string, programs: LinearPrograms): GeometricContext {
  const { plan, weldment, cell } = storyPlan(story, programs);
  return soundContext(plan, weldment, cell, programs);
}

export async function examplePage(name: ExampleName): Promise<GeometricContext> {
  const planner = await Planner.load();
  const { weldment, cell } = inputsOf(example(name));
  if (weldment.kind !== 'geometric' || cell === undefined) throw new Error(`${name} has no shapes`);
  const plan = JSON.parse(JSON.stringify(planner.plan(example(name)))) as GeometricPlan;
  return soundContext(plan, weldment, cell, planner.programs);
}

/** The stand made by hand, whose rib comes by way of the regrip table. */
export const standPage = (programs: LinearPrograms): GeometricContext =>
  soundContext(handMadePlan(programs), standWeldment(), testCell(), programs);
