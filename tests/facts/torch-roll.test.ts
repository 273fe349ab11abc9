import { expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { compose, inverse, multiply, turnAbout, type Pose } from '../../src/geometry/pose.js';
import { inverseBranches } from '../../src/kinematics/inverse.js';
import { torchFlange } from '../../src/model/placement.js';
import { poseOf } from '../../src/rules/plan-frames.js';
import { factsOf } from '../../src/planning/plan.js';
import { storyPlan } from '../support/story-plan.js';

const DEGREE = Math.PI / 180;

it('a limit of axis 6 that forbids every site with the torch along the seam is met by a turn about the wire', async () => {
  const programs = await loadLinearPrograms();
  const { weldment, cell, plan } = storyPlan('wrist-limit-needs-a-roll', programs);
  const welder = cell.welders[0]!;
  expect(welder.arm.limits[5].map((limit) => Math.round(limit / DEGREE))).toEqual([60, 110]);
  /** Degrees by which axis 6 is past its limits in the best of the branches whose other axes are inside theirs. */
  const past = (tip: Pose): number => {
    const flange = compose(inverse(welder.base), torchFlange(tip, welder.torch));
    const inside = inverseBranches(welder.arm, flange).filter(({ joints }) =>
      joints.every(
        (value, i) => i === 5 || (value >= welder.arm.limits[i]![0] && value <= welder.arm.limits[i]![1]),
      ),
    );
    return Math.min(
      ...inside.map(({ joints }) => Math.max(60 - joints[5] / DEGREE, joints[5] / DEGREE - 110)),
    );
  };
  const facts = factsOf(weldment, cell, plan.settings, programs);
  const sites = facts.joints.flatMap((joint) => joint.seams.flatMap((seam) => facts.sites(joint, seam)));
  const ways = sites.flatMap((site) => site.ways);
  expect(sites).toHaveLength(26);
  expect(ways.length).toBeGreaterThan(sites.length);
  // The nearest of all, worked out here: axis 6 stands 17.9 degrees past its limits.
  expect(Math.min(...ways.map(({ start }) => past(start)))).toBeCloseTo(17.887, 3);

  const tacks = plan.stages.flatMap((stage) => stage.tacks);
  expect(tacks.length).toBeGreaterThan(0);
  for (const { torch } of tacks) {
    const start = poseOf(torch.start);
    expect(past(start)).toBeLessThan(0);
    expect(torch.joints[5]).toBeGreaterThan(60);
    expect(torch.joints[5]).toBeLessThan(110);
    // Turned about the wire alone: some whole number of the steps that are tried brings it back onto a way of roll 0.
    const back = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11].filter((n) => {
      const turn = multiply(start.turn, turnAbout([0, 0, 1], -30 * n * DEGREE));
      return ways.some((way) => way.start.turn.every((value, i) => Math.abs(value - turn[i]!) < 1e-6));
    });
    expect(back).toHaveLength(1);
  }
});
