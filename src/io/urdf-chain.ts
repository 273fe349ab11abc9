import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { compose, IDENTITY } from '../geometry/pose.js';
import type { ChainJoint, JointChain } from '../kinematics/joint-chain.js';
import type { Six } from '../kinematics/arm.js';
import { showNames, showValue } from './show.js';
import type { UrdfFault, UrdfJoint, UrdfRobot } from './urdf.js';

/** The joints of an arm of six axes, and what the file says of each. */
export interface UrdfChain {
  readonly chain: JointChain;
  readonly joints: Six<UrdfJoint>;
}

const TURNING: readonly string[] = ['revolute', 'continuous'];

const refuse = (problem: string, remedy: string): Result<never, UrdfFault> => fail({ problem, remedy });

/**
 * The chain of six turning joints from one link to another, fixed joints folded in. `base` is by default the link that
 * hangs on no other, `tip` the one link at the end of six turning joints on which no other hangs.
 */
export function urdfChain(
  robot: UrdfRobot,
  base: string | undefined,
  tip: string | undefined,
): Result<UrdfChain, UrdfFault> {
  for (const name of [base, tip])
    if (name !== undefined && !robot.links.includes(name))
      return refuse(`has no link ${showValue(name)}`, `its links are ${showNames(robot.links)}`);
  const start = base === undefined ? rootOf(robot) : ok(base);
  if (!start.ok) return start;
  const end = tip === undefined ? tipOf(robot, start.value) : ok(tip);
  if (!end.ok) return end;
  const way = wayBetween(robot, start.value, end.value);
  if (way === undefined)
    return refuse(
      `${showValue(end.value)} does not hang on ${showValue(start.value)}`,
      'name as `base` and `tip` two links of one chain',
    );
  return chainOf(way);
}

function rootOf({ links, joints }: UrdfRobot): Result<string, UrdfFault> {
  const roots = links.filter((link) => !joints.some(({ child }) => child === link));
  if (roots.length === 1) return ok(roots[0]!);
  return refuse(
    roots.length === 0
      ? 'has no link that hangs on no other'
      : `has ${roots.length} links that hang on no other`,
    roots.length === 0 ? 'break the ring of joints' : `name one as \`base\`: ${showNames(roots)}`,
  );
}

const turning = (way: readonly UrdfJoint[]): number =>
  way.filter(({ type }) => TURNING.includes(type)).length;

function tipOf(robot: UrdfRobot, base: string): Result<string, UrdfFault> {
  const leaves = robot.links
    .filter((link) => !robot.joints.some(({ parent }) => parent === link))
    .map((link) => ({ link, count: turning(wayBetween(robot, base, link) ?? []) }));
  const tips = leaves.filter(({ count }) => count === 6);
  if (tips.length === 1) return ok(tips[0]!.link);
  if (tips.length > 1)
    return refuse(
      `has ${tips.length} links at the end of six turning joints`,
      `name one as \`tip\`: ${showNames(tips.map(({ link }) => link))}`,
    );
  const most = Math.max(0, ...leaves.map(({ count }) => count));
  return refuse(
    `has a chain of ${most} turning joints from ${showValue(base)}`,
    'six are needed; name a `tip` link',
  );
}

/** The joints from one link down to another; undefined when it does not hang on it. */
function wayBetween({ joints }: UrdfRobot, base: string, tip: string): readonly UrdfJoint[] | undefined {
  const above = new Map(joints.map((joint) => [joint.child, joint]));
  const way: UrdfJoint[] = [];
  for (let link = tip; link !== base;) {
    const joint = above.get(link);
    if (joint === undefined || way.length > joints.length) return undefined;
    way.unshift(joint);
    link = joint.parent;
  }
  return way;
}

function chainOf(way: readonly UrdfJoint[]): Result<UrdfChain, UrdfFault> {
  const found: { readonly joint: UrdfJoint; readonly link: ChainJoint }[] = [];
  let frame = IDENTITY;
  for (const joint of way) {
    frame = compose(frame, joint.frame);
    if (joint.type === 'fixed') continue;
    if (!TURNING.includes(joint.type))
      return refuse(
        `joint ${showValue(joint.name)} between base and tip is ${showValue(joint.type)}`,
        'only fixed and turning joints are understood',
      );
    if (joint.mimics)
      return refuse(
        `joint ${showValue(joint.name)} follows another (mimic)`,
        'six joints of their own are needed',
      );
    found.push({ joint, link: { frame, axis: joint.axis } });
    frame = IDENTITY;
  }
  if (found.length !== 6)
    return refuse(
      `has ${found.length} turning joints between base and tip`,
      'six are needed; name other links',
    );
  return ok({
    chain: { joints: found.map(({ link }) => link) as unknown as JointChain['joints'], flange: frame },
    joints: found.map(({ joint }) => joint) as unknown as Six<UrdfJoint>,
  });
}
