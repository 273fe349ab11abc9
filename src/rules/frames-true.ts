import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { toolFrame, workFramePose } from '../model/frame-poses.js';
import type { PlanPose } from '../model/plan.js';
import type { Pose } from '../geometry/pose.js';
import { poseMiss, poseOf, within, type PoseMiss } from './plan-frames.js';
import { breach, shown, type RuleContext } from './rule.js';

/** Frames are stated to 1e-4 mm and 1e-5 degrees. */
const ROUNDING: PoseMiss = { mm: 0.001, degrees: 0.0005 };

interface Stated {
  readonly where: string;
  readonly what: string;
  readonly pose: PlanPose;
  /** As the cell has it; undefined where the cell has no such thing. */
  readonly is: Pose | undefined;
}

const judged = (rule: string, { where, what, pose, is }: Stated): Finding[] => {
  if (is === undefined) return [breach(rule, where, `the cell has no ${what}`)];
  const miss = poseMiss(poseOf(pose), is);
  if (within(miss, ROUNDING)) return [];
  const message = `the ${what} is ${shown(miss.mm)} mm and ${shown(miss.degrees)} degrees off that of the cell`;
  return [breach(rule, where, message, { value: miss.mm, limit: ROUNDING.mm })];
};

/** Names that are used but not stated, each once. */
function missingFindings(rule: string, { plan, cell }: RuleContext): Finding[] {
  const { bases, tools, works } = plan.frames;
  const missing = plan.programs.flatMap(({ robot, steps }) =>
    steps.flatMap((step) => {
      if (step.do !== 'move' && step.do !== 'tack') return [];
      const tool = tools.some(({ name, robot: of }) => name === step.tool && of === robot);
      const work = works.some(({ name }) => name === step.frame);
      return [
        ...(tool ? [] : [`tool frame ${step.tool} of ${robot} is not stated`]),
        ...(work ? [] : [`work frame ${step.frame} is not stated`]),
      ];
    }),
  );
  const unbased = robotsOf(cell)
    .filter(({ id }) => !bases.some(({ robot }) => robot === id))
    .map(({ id }) => `the base of ${id} is not stated`);
  return [...new Set([...missing, ...unbased])].map((message) => breach(rule, 'frames', message));
}

/** Bases, tool and work frames of the plan that are missing or not those of the cell; unknown grippers are left out. */
export function frameFindings(rule: string, context: RuleContext): Finding[] {
  const { plan, cell } = context;
  const { bases, tools, works } = plan.frames;
  const robotOf = (name: string) => robotsOf(cell).find(({ id }) => id === name);
  const stated: Stated[] = [
    ...bases.map(({ robot, pose }, i) => ({
      ...{ where: `frames.bases[${i}]`, what: `base of ${robot}`, pose, is: robotOf(robot)?.base },
    })),
    ...tools.flatMap(({ name, robot, pose }, i) => {
      const known = robotOf(robot);
      const frame = known && toolFrame(cell, known, name);
      const where = `frames.tools[${i}]`;
      return frame ? [{ where, what: `tool frame ${name} of ${robot}`, pose, is: frame.pose }] : [];
    }),
    ...works.map(({ name, pose }, i) => ({
      ...{ where: `frames.works[${i}]`, what: `work frame ${name}`, pose, is: workFramePose(cell, name, 0) },
    })),
  ];
  const kinds = tools.flatMap(({ name, robot, kind }, i) => {
    const known = robotOf(robot);
    const frame = known && toolFrame(cell, known, name);
    if (frame === undefined || frame.kind === kind) return [];
    return [breach(rule, `frames.tools[${i}].kind`, `tool frame ${name} is said to be a ${kind}`)];
  });
  const turning = works.flatMap(({ name, about }, i) => {
    const { turntable } = cell.table;
    const axis = name === 'weldment' ? turntable?.axis : undefined;
    if (axis?.join() === about?.join()) return [];
    return [breach(rule, `frames.works[${i}].about`, `work frame ${name} turns about another axis`)];
  });
  return [
    ...stated.flatMap((one) => judged(rule, one)),
    ...kinds,
    ...turning,
    ...missingFindings(rule, context),
  ];
}
