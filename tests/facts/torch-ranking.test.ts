import { beforeAll, describe, expect, it } from 'vitest';
import type { Facts } from '../../src/facts/facts.js';
import type { TackSite } from '../../src/facts/tack-sites.js';
import { ROLLS, TorchRanking } from '../../src/facts/torch-ranking.js';
import { tiltsOf } from '../../src/facts/torch-ways.js';
import { axisZ, compose, inverse, multiply, turnAbout, type Pose } from '../../src/geometry/pose.js';
import { along } from '../../src/geometry/vector.js';
import { forward } from '../../src/kinematics/forward.js';
import { inverseBranches } from '../../src/kinematics/inverse.js';
import { torchFlange } from '../../src/model/placement.js';
import { DEFAULT_SETTINGS, settingsSchema } from '../../src/model/settings.js';
import type { Weldment } from '../../src/model/weldment.js';
import { factsOf } from '../../src/planning/plan.js';
import { exampleWith, inputsOf, Planner } from '../support/planned.js';

const DEGREE = Math.PI / 180;
let facts: Facts;
let sites: readonly TackSite[];
beforeAll(async () => {
  const { programs } = await Planner.load();
  const { weldment, cell, settings } = inputsOf(exampleWith('roller-stand', 'base', 'cheek-left'));
  facts = factsOf(weldment as Weldment, cell!, settings, programs);
  sites = facts.joints.flatMap((joint) => joint.seams.flatMap((seam) => facts.sites(joint, seam)));
});

describe('torch angles that are tried', () => {
  it('are the bisector, then the least tilt, across before along', () => {
    expect(tiltsOf(DEFAULT_SETTINGS)).toEqual([
      [0, 0],
      [10, 0],
      [-10, 0],
      [0, 15],
      [0, -15],
      [10, 15],
      [10, -15],
      [-10, 15],
      [-10, -15],
    ]);
    const only = settingsSchema.parse({ torch: { 'work-angle': 9, 'travel-angle': 0.1 } });
    expect(tiltsOf(only)).toEqual([[0, 0]]);
    const fine = settingsSchema.parse({ torch: { 'work-angle': 0.3 * 3, 'work-step': 1, 'travel-step': 5 } });
    expect(tiltsOf(fine)).toHaveLength(7);
  });
});

/** Every candidate of a site, worked out one by one from poses made here. */
function everyCandidate(site: TackSite) {
  const welder = facts.scene.cell.welders[0]!;
  const stroke = DEFAULT_SETTINGS.motion['torch-stroke'];
  const flange = (tip: Pose): Pose => compose(inverse(welder.base), torchFlange(tip, welder.torch));
  const branchAt = (tip: Pose, branch: number): readonly number[] | undefined =>
    inverseBranches(welder.arm, flange(tip)).find(({ index }) => index === branch)?.joints;
  const near = (value: number, to: number): number =>
    value - 2 * Math.PI * Math.round((value - to) / (2 * Math.PI));
  // Axis 5 counts from the stretched wrist in this arm: no offset, so its sine is that of the bend. Two degrees are needed.
  const marginOf = (joints: readonly number[]): number =>
    Math.min(
      ...welder.arm.limits.flatMap(([low, high], i) => [joints[i]! - low, high - joints[i]!]),
      Math.asin(Math.abs(Math.sin(joints[4]! - welder.arm.offsets[4]))) - 2 * DEGREE,
    );
  return site.ways.flatMap((way, place) =>
    ROLLS.flatMap((degrees, roll) =>
      [0, 1, 2, 3, 4, 5, 6, 7].flatMap((branch) => {
        const turn = multiply(way.start.turn, turnAbout([0, 0, 1], degrees * DEGREE));
        const tips = [way.start, way.end].flatMap(({ at }) => [
          { at, turn },
          { at: along(at, axisZ(turn), -stroke), turn },
        ]);
        const joints = tips.map((tip) => branchAt(tip, branch));
        const start = joints[0];
        if (start === undefined || joints.some((one) => one === undefined)) return [];
        const margins = joints.map((one) => marginOf(one!.map((value, i) => near(value, start[i]!))));
        const least = Math.min(...margins);
        return least < 0 ? [] : [{ place, roll, branch, margin: Math.round((least / DEGREE) * 10) }];
      }),
    ),
  );
}

describe('the ranking of torch candidates', () => {
  it('is that of every candidate worked out one by one', () => {
    for (const site of [sites[0]!, sites.at(-1)!]) {
      const every = everyCandidate(site).sort(
        (a, b) => b.margin - a.margin || a.place - b.place || a.roll - b.roll || a.branch - b.branch,
      );
      expect(every.length).toBeGreaterThan(50);
      const stroke = DEFAULT_SETTINGS.motion['torch-stroke'];
      const ranking = new TorchRanking(facts.scene.cell.welders[0]!, site.ways, stroke);
      const ranked = every.map((_, i) => ranking.at(i)!);
      expect(
        ranked.map(({ way, roll, branch, margin }) => ({
          ...{ place: site.ways.indexOf(way), roll, branch, margin },
        })),
      ).toEqual(every);
      expect(ranking.at(every.length)).toBeUndefined();
    }
  });

  it('gives the motion with the largest margin, with the joints that take its poses', () => {
    const welder = facts.scene.cell.welders[0]!;
    for (const site of sites) {
      const any = { way: () => true, motion: () => true };
      expect(facts.torchRefusal(site, any)).toBeUndefined();
      const { start, end, joints, jointsEnd, margin } = facts.torchMotion(site, any)!;
      const best = Math.max(...everyCandidate(site).map((one) => one.margin));
      // A straight stroke that leaves its branch between the ends would cost some of it; none does here.
      expect(Math.round((margin / DEGREE) * 10)).toBe(best);
      for (const [tip, at] of [
        [start, joints],
        [end, jointsEnd],
      ] as const) {
        const reached = compose(compose(welder.base, forward(welder.arm, at)), welder.torch.tip);
        reached.at.forEach((value, i) => expect(value).toBeCloseTo(tip.at[i]!, 6));
        reached.turn.forEach((value, i) => expect(value).toBeCloseTo(tip.turn[i]!, 8));
      }
    }
  });

  it('asks for the way before the motion, and keeps what it found', () => {
    const [site] = sites;
    const seen: number[] = [];
    const only = site!.ways.at(-1)!;
    const found = facts.torchMotion(site!, {
      way: (way) => way === only,
      motion: ({ margin }) => {
        seen.push(margin);
        return seen.length === 3;
      },
    });
    expect(found?.way).toBe(only);
    expect(seen).toEqual([...seen].sort((a, b) => b - a));
    const again = facts.torchMotion(site!, { way: (way) => way === only, motion: () => true });
    expect(again?.margin).toBe(seen[0]);
  });
});
