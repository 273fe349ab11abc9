import { fitVerdicts, statedAccuracy, type FitVerdict, type Newcoming } from '../model/fit-up.js';
import type { PartInPlace, PartWay } from '../model/fits.js';
import { restPose } from '../model/part-rests.js';
import type { Handler } from '../model/cell.js';
import type { PlanAccuracy, Remedy } from '../model/plan.js';
import type { RuleContext } from './rule.js';
import { handlerNamed, handlingViews, stageViews, type StageView } from './stage-views.js';

/** What accuracy comes to at a stage, from the plan alone: with the remedies that the stage names, and as stated. */
export interface JudgedAccuracy {
  readonly view: StageView;
  readonly verdicts: readonly FitVerdict[];
  readonly stated: readonly PlanAccuracy[];
}

/** The grips of a stage, and where the part was located if the remedies say so. */
function wayOf(context: RuleContext, view: StageView, robot: Handler, remedies: readonly Remedy[]): PartWay {
  const { handling } = view.stage;
  const put = handling.at(-2)?.put;
  const lay =
    put === undefined || put.to === 'place' || put.rest === null
      ? undefined
      : { station: put.to, face: put.rest };
  return {
    robot,
    rest: handling[0]!.take.rest,
    grips: handlingViews(context, view).map(({ gripper, grip }) => ({ gripper, face: grip.face })),
    located: remedies.includes('locate') ? lay : undefined,
  };
}

const inPlaceOf = ({ stage, part, index }: StageView): PartInPlace => ({
  part,
  first: index === 0,
  rest: stage.handling[0]?.take.rest ?? null,
  located: stage.remedies.includes('locate') && stage.handling.length > 1,
  seated: stage.remedies.includes('seat'),
  grips: stage.handling.length,
});

/** The parts in place that a newcomer is joined to, in the order of the joints. */
function joinedTo({ plan, scene }: RuleContext, view: StageView): readonly number[] {
  const { part: own } = view.stage;
  const others = plan.joints.flatMap(({ between: [a, b] }) => (a === own ? [b] : b === own ? [a] : []));
  return [...new Set(others)].flatMap((id) => {
    const part = scene.index.get(id);
    return part !== undefined && view.before.includes(part) ? [part] : [];
  });
}

/** Whether the grippers and faces of a stage are known, and the part can lie as it says. */
function isKnown(context: RuleContext, view: StageView): boolean {
  const { handling } = view.stage;
  const rests = handling.flatMap(({ take, put }) => [take.rest, ...(put.rest === null ? [] : [put.rest])]);
  return (
    handlingViews(context, view).length === handling.length &&
    rests.every((rest) => restPose(view.placed.part.shape, rest) !== undefined)
  );
}

/** Every later stage in which robots bring a known part, beside known ones, judged from the inputs and the plan. */
export function judgedAccuracy(context: RuleContext): readonly JudgedAccuracy[] {
  const { scene, settings } = context;
  const views = stageViews(context);
  const joined = (view: StageView): readonly StageView[] =>
    joinedTo(context, view).map((part) => views.find((earlier) => earlier.part === part)!);
  const known = views
    .slice(1)
    .filter(({ stage }) => stage.handling.length > 0)
    .filter((view) => [view, ...joined(view)].every((one) => isKnown(context, one)));
  return known.map((view) => {
    const others = joined(view).map(inPlaceOf);
    const { remedies } = view.stage;
    const judged = (done: readonly Remedy[]): readonly FitVerdict[] => {
      const newcoming: Newcoming = {
        ...{ scene, settings, part: view.part, others },
        way: wayOf(context, view, handlerNamed(context.cell, view.stage.robot)!, done),
      };
      return fitVerdicts(newcoming, done);
    };
    const verdicts = judged(remedies);
    return { view, verdicts, stated: statedAccuracy(judged([]), verdicts, remedies) };
  });
}
