import type { LinearPrograms } from '../../algorithms/linear-program.js';
import type { Cell } from '../../model/cell.js';
import type { GeometricPlan } from '../../model/plan.js';
import type { PlanLift } from '../../model/plan-sub-assembly.js';
import type { Settings } from '../../model/settings.js';
import type { Split } from '../../model/split-weldment.js';
import type { Refusal } from '../../model/verdict.js';
import type { GivenGrip, Part, Weldment } from '../../model/weldment.js';
import { factsOf } from '../../planning/plan.js';
import { leastLift } from '../../rules/sub-assemblies/lift.js';
import { contextFor } from '../../rules/sub-assemblies/split-context.js';

/** What lifting is judged in. */
export interface LiftGround {
  readonly cell: Cell;
  readonly programs: LinearPrograms;
}

/** How surely each sub-assembly is lifted by the grips of a plan, in the order of the split. */
export function liftsOf(
  ground: LiftGround,
  { main, groups }: Split,
  plan: GeometricPlan,
): readonly PlanLift[] {
  const whole = contextFor(ground, main, plan);
  return groups.map(({ group }) => {
    const lift = leastLift(whole, group.name);
    if (lift === undefined) throw new RangeError(`nothing lifts the sub-assembly ${group.name}`);
    return lift;
  });
}

/** A gripper on a face of a sub-assembly by which its tacks do not carry it, as its name, that gripper and that face. */
export interface WeakGrip {
  readonly group: string;
  readonly gripper: string;
  readonly face: string;
  readonly refusal: Refusal;
}

/** The grips of a plan that do not carry their sub-assemblies with the reserve that is required. */
export function weakGrips(
  { groups }: Split,
  plan: GeometricPlan,
  lifts: readonly PlanLift[],
): readonly WeakGrip[] {
  return lifts.flatMap((lift, i) => {
    const { reserve, required } = lift;
    if (reserve >= required) return [];
    const { name } = groups[i]!.group;
    const stage = plan.stages.find(({ part }) => part === name)!;
    const { gripper, face } = stage.handling[lift.grip - 1]!.grip;
    const refusal: Refusal = {
      ...{ code: 'sub-assembly-gives-way', subjects: [name, gripper, face, lift.case] },
      ...{ value: reserve, limit: required, unit: 'reserve' },
    };
    return [{ group: name, gripper, face, refusal }];
  });
}

/** The weldment with sub-assemblies as parts, which are not taken by these grips; undefined where one has no other. */
export function withoutGrips(
  main: Weldment,
  weak: readonly WeakGrip[],
  { cell, programs }: LiftGround,
  settings: Settings,
): Weldment | undefined {
  const facts = factsOf(main, cell, settings, programs);
  const left = (part: Part, index: number): Part => {
    const own = weak.filter(({ group }) => group === part.id);
    if (own.length === 0) return part;
    const grips = facts
      .usableGrips(index)
      .filter(({ gripper, face }) => !own.some((one) => one.gripper === gripper.id && one.face === face))
      .map(({ gripper, face, position, turn, group }) => ({
        ...{ gripper: gripper.id, face, position, turn, group },
      }));
    return { ...part, grips: eachOnce(grips) };
  };
  const parts = facts.scene.parts.map(({ part }, index) => left(part, index));
  return parts.some(({ grips }) => grips?.length === 0) ? undefined : { ...main, parts };
}

/** Every robot has the same grips. */
const eachOnce = (grips: readonly GivenGrip[]): readonly GivenGrip[] => [
  ...new Map(grips.map((grip) => [JSON.stringify(grip), grip])).values(),
];
