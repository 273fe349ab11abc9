import { beforeAll, describe, expect, it } from 'vitest';
import { shapeAngles, sixOf, type Joints } from '../../src/kinematics/arm.js';
import { factsOf } from '../../src/planning/plan.js';
import { inputsOf, Planner, planIn, story, type Files } from '../support/planned.js';

const STORY = 'other-elbow-leaves-room-for-the-torch';
const PLATE = 1;

let planner: Planner;
beforeAll(async () => {
  planner = await Planner.load();
});

/** The story with other limits of joint 3 of the handling arm, whose home must be within them. */
function withLimits(third: readonly [number, number], home: readonly number[]): Files {
  const files = story(STORY);
  const handler = files.cell.robots['handler'] as unknown as { arm: { limits: unknown[] }; home: unknown };
  handler.arm.limits[2] = third;
  handler.home = home;
  return files;
}

/** Axis 3 bent the one way or the other: the elbow above the line from shoulder to wrist, or below it. */
function elbow({ cell }: Files, joints: Joints): 'above' | 'below' {
  const { arm } = inputsOf({ cell, weldment: story(STORY).weldment }).cell!.handlers[0]!;
  return shapeAngles(arm, joints)[2] + Math.atan2(arm.a2, arm.c3) > 0 ? 'above' : 'below';
}

const heldAt = (files: Files): Joints => {
  const stage = planIn(planner.outcome(files)).stages[PLATE]!;
  expect(stage.held).toBe('handler');
  const { joints } = stage.handling.at(-1)!.put;
  return sixOf((i) => (joints[i]! * Math.PI) / 180);
};

describe('a plate that is held from the side of a seam', () => {
  it('would be held with the elbow below, where the joints are farthest from their limits', () => {
    const files = story(STORY);
    const { weldment, cell, settings } = inputsOf(files);
    if (weldment.kind !== 'geometric') throw new Error('no shapes');
    const facts = factsOf(weldment, cell!, settings, planner.programs);
    const [grip, approach] = [facts.usableGrips(PLATE)[0]!, facts.approaches(PLATE)[0]!];
    const placed = facts.place(PLATE, grip, approach);
    if (!placed.ok) throw new Error(placed.error.code);
    const elbows = [...placed.value].map(({ joints }) => elbow(files, joints));
    expect(elbows[0]).toBe('below');
    expect(elbows).toContain('above');
  });

  it('is held with the elbow above, which leaves room for the torch', () => {
    const files = story(STORY);
    expect(elbow(files, heldAt(files))).toBe('above');
  });

  it('is held so as well when the elbow can be nowhere else', () => {
    const files = withLimits([-180, 40], [0, -35, 25, 0, 100, 0]);
    expect(elbow(files, heldAt(files))).toBe('above');
  });

  it('cannot be planned when the elbow can be below only', () => {
    const outcome = planner.outcome(withLimits([-240, 10], [0, -50, 5, 0, 120, 0]));
    expect(outcome.kind).toBe('impossible');
    if (outcome.kind === 'impossible')
      expect(outcome.reasons.map(({ subjects }) => subjects[0])).toContain('plate');
  });
});
