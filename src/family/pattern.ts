import { roleOfGrip } from '../facts/grip-role.js';
import type { BuildPattern, GripRole, PatternStage } from '../model/build-pattern.js';
import type { Cell } from '../model/cell.js';
import type { GeometricPlan, PlanGrip, Stage } from '../model/plan.js';
import type { Weldment } from '../model/weldment.js';
import { signalsByStage } from './signals.js';

/** What a plan was made for, as far as the roles of its grips need it. */
export interface Built {
  readonly weldment: Weldment;
  readonly cell: Cell;
}

/** How a plan builds its weldment, without its sizes; `from` is the name of the variant. It has no id yet. */
export function patternOf(plan: GeometricPlan, built: Built, from: string): BuildPattern {
  const signals = signalsByStage(plan);
  return { id: '', from, stages: plan.stages.map((stage, i) => stageOf(stage, built, signals[i]!)) };
}

function stageOf(stage: Stage, built: Built, handshakes: PatternStage['handshakes']): PatternStage {
  const { part, robot, turn = 0, handling, held, alsoHeld } = stage;
  const role = (grip: PlanGrip): GripRole => roleIn(built, part, grip);
  const last = handling.at(-1);
  return {
    ...{ part, robot, turn, handshakes },
    regrips: handling.flatMap(({ grip, put: { to, rest } }) =>
      to === 'place' || rest === null ? [] : [{ grip: role(grip), to, rest }],
    ),
    grip: last ? role(last.grip) : null,
    held: held !== null,
    alsoHeld: alsoHeld?.part ?? null,
  };
}

/** A plan names only parts and grippers that there are. */
function roleIn({ weldment, cell }: Built, part: string, grip: PlanGrip): GripRole {
  const own = weldment.parts.find(({ id }) => id === part);
  const gripper = cell.grippers.find(({ id }) => id === grip.gripper);
  if (own === undefined || gripper === undefined)
    throw new RangeError(`the plan takes ${part} by ${grip.gripper}, which the inputs do not have`);
  return roleOfGrip(own, grip, gripper);
}

/** Whether two patterns build in the same way, whatever they are called and wherever they come from. */
export const sameWay = (a: BuildPattern, b: BuildPattern): boolean => wayKey(a) === wayKey(b);

/** Equal exactly for patterns that build in the same way. */
export const wayKey = ({ stages }: BuildPattern): string => JSON.stringify(stages.map(canonical));

/** Keys in one order, whatever order a document had them in; signals of a stage have none. */
function canonical({ handshakes, ...stage }: PatternStage): unknown {
  const signals = handshakes.map(({ state, from, to }) => `${state} ${from} ${to}`).sort();
  return sortedKeys({ ...stage, signals });
}

function sortedKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sortedKeys);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, own]) => [key, sortedKeys(own)]),
  );
}

/** The stages of a pattern that a weldment has the parts for. */
export const stagesFor = ({ stages }: BuildPattern, { parts }: Weldment): readonly PatternStage[] =>
  stages.filter(({ part }) => parts.some(({ id }) => id === part));
