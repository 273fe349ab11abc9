import type { LinearPrograms } from '../../algorithms/linear-program.js';
import type { Cell } from '../../model/cell.js';
import type { GeometricPlan, PlanSubAssembly } from '../../model/plan.js';
import { buildScene } from '../../model/scene.js';
import { splitWeldment, type Split } from '../../model/split-weldment.js';
import type { LyingSubAssembly } from '../../model/sub-assembly.js';
import type { Weldment } from '../../model/weldment.js';
import { groupMetal } from '../group-metal.js';
import type { RuleContext } from '../rule.js';

/** A plan with all that it has of sub-assemblies, and the inputs that it is for. */
export interface WholePlan {
  readonly weldment: Weldment;
  readonly cell: Cell;
  readonly plan: GeometricPlan;
  readonly programs: LinearPrograms;
}

/** A sub-assembly of a plan with what its own plan is judged by. */
export interface GroupContext {
  readonly stated: PlanSubAssembly;
  readonly where: string;
  readonly context: RuleContext;
}

/** A plan taken apart by the sub-assemblies that it states. */
export interface SplitContext {
  /** The weldment with its sub-assemblies as parts. */
  readonly main: RuleContext;
  readonly groups: readonly GroupContext[];
}

/** What a plan without sub-assemblies is judged by, or one piece of a plan that has some. */
export const contextFor = (
  { cell, programs }: Pick<WholePlan, 'cell' | 'programs'>,
  weldment: Weldment,
  plan: GeometricPlan,
): RuleContext => {
  const { settings } = plan;
  return { weldment, cell, plan, settings, scene: buildScene(weldment, cell, settings), programs };
};

/** A sub-assembly as its plan states it. */
export const lyingGroup = ({
  name,
  parts,
  rest,
  within,
}: Omit<PlanSubAssembly, 'plan' | 'lift'>): LyingSubAssembly => ({
  ...{ name, parts, rest, within },
});

/** A weldment split as a plan of it states, with the tacks of its sub-assemblies; throws as `splitContext` does. */
export function splitOf(weldment: Weldment, { subAssemblies = [] }: GeometricPlan): Split {
  const lying = subAssemblies.map(lyingGroup);
  const metal = lying.map((group, i) => groupMetal(weldment, group, subAssemblies[i]!.plan));
  return splitWeldment(weldment, lying, new Map(lying.map(({ name }, i) => [name, metal[i]!])));
}

/** A plan taken apart; a RangeError where it states parts or rests that are not there: `partsFindings` tells of them before. */
export function splitContext(whole: WholePlan): SplitContext {
  const { weldment, plan } = whole;
  const stated = plan.subAssemblies ?? [];
  const { main, groups } = splitOf(weldment, plan);
  return {
    main: contextFor(whole, main, plan),
    groups: groups.map(({ weldment: own }, i) => ({
      ...{ stated: stated[i]!, where: `subAssemblies[${i}]` },
      context: contextFor(whole, own, stated[i]!.plan),
    })),
  };
}
