import { beforeAll, describe, expect, it } from 'vitest';
import { compose, inverse, place, type Pose } from '../../src/geometry/pose.js';
import { boxPiece } from '../../src/geometry/convex.js';
import { hullDistance, type RoundedHull } from '../../src/geometry/rounded-hull.js';
import { sixOf, type Joints } from '../../src/kinematics/arm.js';
import { linkCount, type ArmBody, type ToolPiece } from '../../src/kinematics/arm-body.js';
import { elementsAt } from '../../src/kinematics/arm-sample.js';
import { forward } from '../../src/kinematics/forward.js';
import { inverseBranches } from '../../src/kinematics/inverse.js';
import { straightPath } from '../../src/kinematics/straight-path.js';
import type { Cell, Gripper, Welder } from '../../src/model/cell.js';
import { wholeTorch } from '../../src/model/placement.js';
import type { GeometricPlan, Stage, Step } from '../../src/model/plan.js';
import { densely } from '../support/dense-clearance.js';
import { stand } from '../session/small-stands.js';
import { inputsOf, Planner } from '../support/planned.js';
import { storyPlan, type StoryPlan } from '../support/story-plan.js';

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

const inRadians = (degrees: readonly number[]): Joints => sixOf((i) => (degrees[i]! * Math.PI) / 180);
const SAMPLES = 40;
/** Joints in a plan are rounded to a ten-thousandth of a degree: less than this at the end of an arm, mm. */
const ROUNDING = 0.02;

/** A gripper without fingers: a box behind the plane of its pads, which is `reach` before the flange. */
function gripperPiece({ reach, envelope: { length, width, height } }: Gripper): ToolPiece {
  const { vertices } = boxPiece([length / 2, width / 2, height / 2]);
  return { name: 'gripper', points: vertices.map(([x, y, z]) => [x, y, z + reach - height / 2]) };
}

const welderBody = ({ base, arm, radii, torch }: Welder): ArmBody => ({
  base,
  arm,
  radii,
  tool: wholeTorch(torch.tip, torch).map(({ vertices }) => ({ name: 'torch', points: vertices })),
});

/** The arms that hold in a stage, as they stand meanwhile. */
function holders(cell: Cell, { held, handling, alsoHeld }: Stage): { hull: RoundedHull; link: boolean }[] {
  const last = handling.at(-1)!;
  const all = [
    ...(held === null ? [] : [{ robot: held, grip: last.grip, joints: last.put.joints }]),
    ...(alsoHeld ? [alsoHeld] : []),
  ];
  return all.flatMap(({ robot, grip, joints }) => {
    const { base, arm, radii } = cell.handlers.find(({ id }) => id === robot)!;
    const gripper = cell.grippers.find(({ id }) => id === grip.gripper)!;
    const body: ArmBody = { base, arm, radii, tool: [gripperPiece(gripper)] };
    return elementsAt(body, inRadians(joints)).map(({ hull }, i) => ({ hull, link: i < linkCount(body) }));
  });
}

/** Postures along a straight line of the flange, each the branch that is nearest to the last. */
function straightly({ arm }: Welder, from: Joints, to: Joints): readonly Joints[] {
  const { at } = straightPath(forward(arm, from), forward(arm, to));
  const way: Joints[] = [from];
  const off = (joints: Joints, last: Joints): number =>
    Math.max(...joints.map((value, i) => Math.abs(Math.sin((value - last[i]!) / 2))));
  for (let k = 1; k <= SAMPLES; k += 1) {
    const last = way.at(-1)!;
    const found = inverseBranches(arm, at(k / SAMPLES)).map(({ joints }) => joints);
    way.push(found.reduce((best, next) => (off(next, last) < off(best, last) ? next : best)));
  }
  return way;
}

interface Piece {
  readonly postures: readonly Joints[];
  /** A stroke onto a seam, along it or away from it, where torch and gripper may come near to each other. */
  readonly stroke: boolean;
}

/** What the welding arm does from its home to its home again around the securing tacks of a stage. */
function securingMoves(plan: GeometricPlan, cell: Cell, stage: Stage): readonly Piece[] {
  const welder = cell.welders[0]!;
  const { steps } = plan.programs.find(({ robot }) => robot === welder.id)!;
  const tackOf = (step: Step) =>
    step.do === 'tack' ? stage.tacks.find(({ id }) => id === step.tack) : undefined;
  const own = steps.filter((step) => step.stage === stage.number);
  const end = own.findLastIndex((step) => tackOf(step)?.phase === 'securing');
  if (end < 0) return [];
  const upTo = own.findIndex((step, i) => i > end && step.do === 'leave');
  const pieces: Piece[] = [];
  let at = welder.home;
  own.slice(0, upTo).forEach((step, i) => {
    const tack = tackOf(step);
    const to = tack ? tack.torch.jointsEnd : step.do === 'move' ? step.to : undefined;
    if (to === undefined) return;
    const next = inRadians(to);
    const joint = step.do === 'move' && step.path === 'joint';
    const beside = own[i - 1]?.do === 'tack' || own[i + 1]?.do === 'tack' || tack !== undefined;
    pieces.push({
      postures: joint ? densely([at, next], 4 * SAMPLES) : straightly(welder, at, next),
      stroke: !joint && beside,
    });
    at = next;
  });
  return pieces;
}

/** The least distance of the welding arm from those that hold, of what must keep the clearance; and how much was looked at. */
function nearest(plan: GeometricPlan, cell: Cell): { distance: number; tacks: number } {
  const body = welderBody(cell.welders[0]!);
  let [distance, tacks] = [Infinity, 0];
  for (const stage of plan.stages) {
    const standing = holders(cell, stage);
    if (standing.length === 0) continue;
    tacks += stage.tacks.filter(({ phase }) => phase === 'securing').length;
    for (const { postures, stroke } of securingMoves(plan, cell, stage))
      for (const joints of postures)
        elementsAt(body, joints).forEach(({ hull }, i) => {
          for (const other of standing)
            if (!stroke || i < linkCount(body) || other.link)
              distance = Math.min(distance, hullDistance(hull, other.hull));
        });
  }
  return { distance, tacks };
}

const ELBOW = 'other-elbow-leaves-room-for-the-torch';

describe('arms that hold and the welding arm meanwhile', () => {
  let told: StoryPlan;
  beforeAll(() => {
    told = storyPlan(ELBOW, planner.programs);
  });

  it('are told with a gripper whose pads are on the face', () => {
    const { plan, cell } = told;
    const { put } = plan.stages[1]!.handling.at(-1)!;
    const { base, arm } = cell.handlers[0]!;
    const { reach } = cell.grippers[0]!;
    const flange: Pose = compose(base, forward(arm, inRadians(put.joints)));
    const pads = place(compose(inverse(cell.weldmentPose), flange), [0, 0, reach]);
    // The plate's middle is at 170 mm, its face at x = -4; the grip is 90 mm above the middle.
    [-4, 0, 170 + 90].forEach((value, i) => expect(pads[i]).toBeCloseTo(value, 1));
  });

  it('keep the clearance at many postures all the while, and would not with the other elbow', () => {
    const { plan, cell } = told;
    const { clearance } = plan.settings.motion;
    const { distance, tacks } = nearest(plan, cell);
    expect(tacks).toBe(2);
    expect(distance).toBeGreaterThanOrEqual(clearance - ROUNDING);
    expect(distance).toBeLessThan(500);

    const { arm } = cell.handlers[0]!;
    const { put } = plan.stages[1]!.handling.at(-1)!;
    const given = forward(arm, inRadians(put.joints));
    // Branches 2 and 3 have the elbow below.
    const { joints } = inverseBranches(arm, given)[2]!;
    const other = structuredClone(plan);
    other.stages[1]!.handling.at(-1)!.put.joints = [...sixOf((i) => (joints[i]! * 180) / Math.PI)];
    expect(nearest(other, cell).distance).toBeLessThan(clearance);
  });

  it('keep it while an earlier part is held too', () => {
    const { plan, cell } = storyPlan('tall-plate-held-while-block-stands', planner.programs);
    expect(plan.stages.some(({ alsoHeld }) => alsoHeld)).toBe(true);
    const { distance, tacks } = nearest(plan, cell);
    expect(tacks).toBeGreaterThan(0);
    expect(distance).toBeGreaterThanOrEqual(plan.settings.motion.clearance - ROUNDING);
  });

  it('keep it where several parts are held in turn, in the cell of the examples', () => {
    const files = stand({ height: 200, aside: 90, extras: ['gusset'] });
    const { distance, tacks } = nearest(planner.plan(files), inputsOf(files).cell!);
    expect(tacks).toBeGreaterThan(2);
    expect(distance).toBeGreaterThanOrEqual(10 - ROUNDING);
    expect(distance).toBeLessThan(500);
  });
});
