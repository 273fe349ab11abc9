import { sixOf, type Arm, type Joints } from '../../../kinematics/arm.js';
import type { Handler, Welder } from '../../../model/cell.js';
import { replay, type ArmStep, type ReplayContext } from '../../../rules/arm-replay.js';
import { plain } from '../../plain.js';
import { stepWords } from '../../step-words.js';
import type { PageArm, PageRobot, PageStep } from '../page-data.js';
import type { RobotProgram } from './robot-program.js';
import { mm, pageAngle, pageJoints, pagePose, seconds } from './rounding.js';
import { toolsInUse, type ToolsInUse } from './tools.js';
import { thinWay } from './ways.js';

function pageArm({ a1, a2, b, c1, c2, c3, c4, offsets, signs, coupled }: Arm): PageArm {
  return {
    ...{ a1, a2, b, c1, c2, c3, c4 },
    offsets: sixOf((i) => pageAngle(offsets[i]!)),
    signs,
    ...(coupled === true && { coupled }),
  };
}

function pageRadii({ radii }: Handler | Welder): PageRobot['radii'] {
  const { column, upperArm, forearm, wrist, dressPack } = radii;
  return {
    ...{ column: mm(column), upperArm: mm(upperArm), forearm: mm(forearm), wrist: mm(wrist) },
    ...(dressPack !== undefined && { dressPack: mm(dressPack) }),
  };
}

/** What the replay says of each step, by its index; nothing of one whose way cannot be followed. */
const byStep = (replayed: readonly ArmStep[]): ReadonlyMap<number, ArmStep> =>
  new Map(
    replayed.flatMap((one) =>
      Array.from({ length: one.last - one.first + 1 }, (_, i) => [one.first + i, one] as const),
    ),
  );

/** The steps with their ways; a step whose way cannot be followed stands where it begins, which the rule on reach tells. */
function pageSteps(
  { plan }: ReplayContext,
  { who, steps }: RobotProgram,
  replayed: readonly ArmStep[],
  tools: ToolsInUse,
): readonly PageStep[] {
  const found = byStep(replayed);
  let last: Joints = pageJoints(who.home);
  return steps.map((step, i) => {
    const course = found.get(i)?.course;
    const thin = course === undefined ? { way: [last] } : thinWay(who.arm, course.way);
    last = thin.way.at(-1)!;
    return {
      ...{ n: step.n, stage: step.stage, start: seconds(step.start), end: seconds(step.end) },
      what: stepWords(step, plan.handshakes).what,
      tool: tools.at(i),
      ...thin,
      waits: step.do === 'await',
    };
  });
}

const atHome = (home: Joints, makespan: number, tool: number): PageStep => ({
  ...{ n: 0, stage: 0, start: 0, end: seconds(makespan), what: 'stand at home' },
  ...{ tool, way: [pageJoints(home)], waits: false },
});

export function pageRobot(context: ReplayContext, program: RobotProgram): PageRobot {
  const { robot, who, steps } = program;
  const replayed = replay(context, robot, who, steps).steps;
  const tools = toolsInUse(program, replayed);
  const { makespan } = context.plan.timeline;
  return {
    name: plain(who.id),
    duty: who.duty,
    base: pagePose(who.base),
    arm: pageArm(who.arm),
    radii: pageRadii(who),
    tools: tools.tools,
    steps:
      steps.length === 0
        ? [atHome(who.home, makespan, tools.at(0))]
        : pageSteps(context, program, replayed, tools),
  };
}
