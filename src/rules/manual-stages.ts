import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan, Step } from '../model/plan.js';
import { restsAtHome } from './resume-points.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'manual-stages';

/** A part that is to be set by hand is, and no other; for the seconds that are planned for it, with the clamp of the table. */
function stageFindings({ cell }: RuleContext, { stage, placed, where, index }: StageView): Finding[] {
  const { manual, part } = stage;
  const wished = placed.part.manual;
  if (wished === undefined)
    return manual === undefined
      ? []
      : [breach(ID, `${where}.manual`, `${part} is set by hand; the weldment file leaves it to the robots`)];
  if (manual === undefined)
    return [breach(ID, `${where}.robot`, `${part} is brought by ${stage.robot}; it shall be set by hand`)];
  const { name, force } = cell.table.clamp;
  const clamp = index === 0 && force > 0 ? name : null;
  const { seconds } = wished;
  return [
    ...(manual.seconds === seconds
      ? []
      : [
          breach(
            ID,
            `${where}.manual.seconds`,
            `${shown(manual.seconds)} s are planned to set ${part}; the weldment file says ${shown(seconds)}`,
            { value: manual.seconds, limit: seconds },
          ),
        ]),
    ...(manual.clamp === clamp
      ? []
      : [
          breach(
            ID,
            `${where}.manual.clamp`,
            `${part} is clamped with ${manual.clamp ?? 'nothing'}; it should be ${clamp ?? 'nothing'}`,
          ),
        ]),
  ];
}

/** Nothing is still held when a person comes. */
const heldFindings = ({ plan }: RuleContext, { stage, where, index }: StageView): Finding[] => {
  const last = plan.stages[index - 1];
  if (stage.manual === undefined || last?.stands !== 'held') return [];
  return [breach(ID, `${where}.manual`, `${last.part} is still held while a person sets ${stage.part}`)];
};

/** Steps after the last stage have no number. */
const isEarlier = (step: Step, number: number): boolean => step.stage !== 0 && step.stage < number;

/** Every robot has come home with nothing in hand and is in no zone when it has ended the stages before. */
function restFindings({ plan, cell }: RuleContext, { stage, where }: StageView): Finding[] {
  if (stage.manual === undefined) return [];
  return robotsOf(cell).flatMap((robot) => {
    const steps = plan.programs.find((one) => one.robot === robot.id)?.steps ?? [];
    const next = firstOf(steps, stage.number);
    if (restsAtHome(robot, steps, next)) return [];
    const message = `${robot.id} does not rest at home with nothing in hand while a person sets ${stage.part}`;
    return [breach(ID, `${where}.manual`, message)];
  });
}

/** The first step of a program that belongs to a stage or to a later one; its length where there is none. */
function firstOf(steps: GeometricPlan['programs'][number]['steps'], number: number): number {
  const last = steps.findLastIndex((step) => isEarlier(step, number));
  return last + 1;
}

function judge(context: RuleContext): Finding[] {
  return stageViews(context).flatMap((view) => [
    ...stageFindings(context, view),
    ...heldFindings(context, view),
    ...restFindings(context, view),
  ]);
}

/**
 * Parts that a person shall set are set by a person, and no others, while every robot rests at home and holds nothing.
 * That none of them moves meanwhile, handshakes-safe says.
 */
export const manualStages: Rule = {
  id: ID,
  forbids:
    'a part that the file leaves to a person brought by a robot, or the other way round; a person at work while a robot is away from its home or holds a part',
  why: 'whoever reaches into the cell has to know that it is meant, and that nothing is in the air above their hands',
  judge,
};
