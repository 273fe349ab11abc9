import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw, place, rotate } from '../../src/geometry/pose.js';
import { dot, length, type Vec3 } from '../../src/geometry/vector.js';
import { tackShrinkage } from '../../src/mechanics/shrinkage.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { distortionAccount } from '../../src/rules/distortion-account.js';
import {
  DistortionRun,
  runStage,
  worstOpening,
  type DistortionStage,
} from '../../src/rules/distortion-run.js';
import type { Scene } from '../../src/model/scene.js';
import { testCell } from '../support/cell.js';
import { BASE, inWeldment, RIB, ribTack, SEAM, teeScene, WEB, webHold, webTack } from './tee.js';

const NO_FACTORS = { transverse: 1, longitudinal: 1, angular: 1 };
/** Thirty thicknesses of the web are the greatest pitch, less than the seam. */
const PITCH = 240;

const free = tackShrinkage(
  { type: 'fillet', leg: 4, length: 40, tributary: PITCH, thicknessA: 10, thicknessB: 10 },
  NO_FACTORS,
);

const begun = (scene: Scene, settings = DEFAULT_SETTINGS): DistortionRun => {
  const run = new DistortionRun(scene, settings);
  run.join(BASE);
  run.join(WEB);
  return run;
};

/** Turn of the web about the seam, radians; below zero it leans to the side of positive y. */
const lean = (run: DistortionRun, scene: Scene): number => inWeldment(scene, run.motion(WEB).turn)[0];

describe('a T of two plates', () => {
  it('is turned by one tack on one side by the share of the published angle that the tack stands for', () => {
    expect(PITCH).toBeLessThan(SEAM);
    for (const side of [-1, 1] as const) {
      const scene = teeScene();
      const run = begun(scene);
      run.lay(webTack(scene, 0, side));
      expect(lean(run, scene)).toBeCloseTo(-side * free.angular, 4);
      expect(length(run.motion(BASE).turn)).toBeLessThan(1e-5);
    }
  });

  it('is tacked also where the open side is off the plane of the contact by no more than rounding', () => {
    const scene = teeScene();
    const welded = (off: number): number => {
      const run = begun(scene);
      const open = rotate(scene.cell.weldmentPose.turn, [0, Math.cos(off), Math.sin(off)]);
      run.lay({ ...webTack(scene, 0, 1), type: 'butt', leg: 40, length: SEAM, open });
      return lean(run, scene);
    };
    for (const off of [1e-7, 3e-7, 1e-6, 3e-6, 1e-5]) expect(welded(off)).toBeCloseTo(welded(0), 4);
  });

  it('is turned back by a tack on the other side, and keeps a rest to the side that was tacked first', () => {
    const scene = teeScene();
    const run = begun(scene);
    run.lay(webTack(scene, 0, 1));
    const first = lean(run, scene);
    run.lay(webTack(scene, 0, -1));
    expect(Math.abs(lean(run, scene))).toBeLessThan(0.5 * Math.abs(first));
  });

  it('stands straighter when its tacks alternate between the sides than when one side comes first', () => {
    const after = (sides: readonly (readonly [number, -1 | 1])[]): number => {
      const scene = teeScene();
      const run = begun(scene);
      let most = 0;
      for (const [x, side] of sides) {
        run.lay(webTack(scene, x, side));
        most += Math.abs(lean(run, scene));
      }
      return most;
    };
    const alternating = after([
      [-100, 1],
      [-100, -1],
      [100, -1],
      [100, 1],
    ]);
    const oneSideFirst = after([
      [-100, 1],
      [100, 1],
      [-100, -1],
      [100, -1],
    ]);
    expect(alternating).toBeLessThan(oneSideFirst);
  });

  it('is drawn to the base over a root gap by what of the shrinkage is square to it, and not at all where it bears', () => {
    for (const gap of [0, 0.6]) {
      const scene = teeScene({ gap });
      const run = begun(scene);
      const tack = webTack(scene, 0, 1, gap);
      expect(run.opening(tack)).toBeCloseTo(gap, 3);
      run.lay(tack);
      expect(run.opening(tack)).toBeCloseTo(Math.max(0, gap - free.transverse * Math.SQRT1_2), 3);
    }
  });
});

describe('a heavy block', () => {
  it('is not lifted by a tack whose moment its weight exceeds, and a light one is', () => {
    for (const [mass, lifted] of [
      [62, false],
      [2, true],
    ] as const) {
      const scene = teeScene({ web: mass });
      const run = begun(scene);
      run.lay(webTack(scene, 0, 1, 0, 100));
      // 608 N at 100 mm from the edge against a plastic moment of 235 x 40 x 2.83^2 / 4 = 18.8 N m of the tack.
      const opening = run.opening(webTack(scene, 0, -1, 0, 100));
      if (lifted) expect(opening).toBeGreaterThan(0.4);
      else expect(opening).toBeLessThan(0.15);
    }
  });
});

describe('a hold', () => {
  it('keeps a part straighter while it lasts, slips, and lets it spring on when it is let go', () => {
    const scene = teeScene();
    const run = begun(scene);
    run.hold(webHold(scene));
    run.lay(webTack(scene, 0, 1));
    const held = Math.abs(lean(run, scene));
    expect(run.isHeld(WEB)).toBe(true);
    run.letGo(WEB);
    expect(run.isHeld(WEB)).toBe(false);
    const after = Math.abs(lean(run, scene));
    expect(held).toBeLessThan(0.98 * free.angular);
    expect(after).toBeGreaterThan(held);
    expect(after).toBeLessThanOrEqual(free.angular + 1e-6);
  });

  it('does nothing where its pads have no friction and the part leans away from them', () => {
    const cell = testCell();
    const slippery = { ...cell, grippers: cell.grippers.map((one) => ({ ...one, friction: 0 })) };
    const scene = teeScene({ cell: slippery });
    const hold = webHold(scene);
    const { at } = scene.parts[WEB]!.pose;
    const run = begun(scene);
    run.hold(hold);
    for (const side of [-1, 1] as const) {
      const tried = run.copy();
      tried.lay(webTack(scene, 0, side));
      const toward = dot(tried.displacement(WEB, at), normalOfHold(scene)) > 0;
      if (!toward) expect(lean(tried, scene)).toBeCloseTo(-side * free.angular, 6);
      else expect(Math.abs(lean(tried, scene))).toBeLessThan(free.angular);
    }
  });

  it('that the part does not have is let go without effect', () => {
    const scene = teeScene();
    const run = begun(scene);
    const before = run.motion(WEB);
    run.letGo(WEB);
    expect(run.motion(WEB)).toEqual(before);
  });
});

/** The way out of the face that the web is held on, in the cell. */
function normalOfHold({ parts }: Scene): Vec3 {
  const { at, turn } = parts[WEB]!.pose;
  const up = place({ at, turn }, [0, 0, 1]);
  return [up[0] - at[0], up[1] - at[1], up[2] - at[2]];
}

describe('a part that is brought', () => {
  it('comes to its nominal place: the seam to one that leans away stands open by as much as that has moved', () => {
    const scene = teeScene();
    const run = begun(scene);
    // Leans to the side of negative y, away from the rib.
    run.lay(webTack(scene, 0, -1));
    const gone = inWeldment(scene, run.displacement(WEB, ribTack(scene).at))[1];
    expect(gone).toBeLessThan(-0.1);
    run.join(RIB);
    expect(length(run.motion(RIB).move)).toBeLessThan(1e-3);
    expect(run.opening(ribTack(scene))).toBeCloseTo(-gone, 3);
  });

  it('is pushed off by one that leans into its place', () => {
    const scene = teeScene();
    const run = begun(scene);
    run.lay(webTack(scene, 0, 1));
    run.join(RIB);
    expect(inWeldment(scene, run.motion(RIB).move)[1]).toBeGreaterThan(0.1);
    expect(run.opening(ribTack(scene))).toBeLessThan(0.3);
  });
});

/** Base; web held with a tack a side; rib free with its tack. */
const stagesOf = (scene: Scene): readonly DistortionStage[] => [
  { part: BASE, holds: [], securing: [], completing: [], heldOn: false },
  {
    ...{ part: WEB, holds: [webHold(scene)], heldOn: false },
    securing: [webTack(scene, -100, 1), webTack(scene, 100, -1)],
    completing: [webTack(scene, 100, 1)],
  },
  { part: RIB, holds: [], securing: [], completing: [ribTack(scene)], heldOn: false },
];

describe('a stage', () => {
  it('tells its events in their order', () => {
    const scene = teeScene();
    const run = new DistortionRun(scene, DEFAULT_SETTINGS);
    const told = stagesOf(scene).flatMap((stage) => runStage(run, stage));
    const names = told.map((event) =>
      event.kind === 'tack' ? event.tack.id : `${event.kind} ${event.part}`,
    );
    expect(names).toEqual([
      'join 0',
      'join 1',
      'left@-100',
      'right@100',
      'let-go 1',
      'left@100',
      'join 2',
      'rib',
    ]);
    expect(worstOpening(scene, told)).toBeUndefined();
    const narrow = { ...scene, weldment: { ...scene.weldment, fitUp: { gap: 0.01, insertion: 0.5 } } };
    const worst = Math.max(...told.map((event) => (event.kind === 'tack' ? event.before : 0)));
    expect(worstOpening(narrow, told)?.opening).toBeCloseTo(worst, 3);
  });

  it('keeps a newcomer that is held on until a later stage', () => {
    const scene = teeScene();
    const run = new DistortionRun(scene, DEFAULT_SETTINGS);
    const [base, web, rib] = stagesOf(scene);
    runStage(run, base!);
    runStage(run, { ...web!, heldOn: true });
    expect(run.isHeld(WEB)).toBe(true);
    const events = runStage(run, { ...rib!, holds: [webHold(scene)] });
    expect(run.isHeld(WEB)).toBe(false);
    expect(events.map(({ kind }) => kind)).toEqual(['join', 'let-go', 'tack']);
  });
});

describe('the account of a tack-up', () => {
  const tolerances = [{ name: 'web', from: 'base', to: 'web', 'iso-13920': 'A' as const }];
  const accountAt = (yaw: number) => {
    const cell = testCell();
    const { at } = cell.weldmentPose;
    const turned = { ...cell, weldmentPose: { at, turn: fromRollPitchYaw(0, 0, yaw) } };
    const scene = teeScene({ cell: turned, tolerances });
    return distortionAccount(scene, DEFAULT_SETTINGS, stagesOf(scene));
  };

  it('is the same twice', () => {
    expect(accountAt(90)).toEqual(accountAt(90));
  });

  it('does not depend on how the weldment lies in the cell', () => {
    const [straight, turned] = [accountAt(0), accountAt(37)];
    expect(turned.features[0]!.deviation).toBeCloseTo(straight.features[0]!.deviation, 3);
    straight.stages.forEach(({ steps, openings }, i) => {
      openings.forEach(({ before }, n) =>
        expect(turned.stages[i]!.openings[n]!.before).toBeCloseTo(before, 2),
      );
      steps.forEach(({ after, moved }, n) => {
        expect(turned.stages[i]!.steps[n]!.after).toBe(after);
        for (const { part, move } of moved) {
          const other = turned.stages[i]!.steps[n]!.moved.find((one) => one.part === part);
          if (other) move.forEach((value, axis) => expect(other.move[axis]).toBeCloseTo(value, 2));
        }
      });
    });
  });

  it('lists only parts that are elsewhere than after the step before', () => {
    const { stages } = accountAt(90);
    const last = new Map<string, string>();
    for (const { moved } of stages.flatMap(({ steps }) => steps))
      for (const { part, ...stated } of moved) {
        expect(JSON.stringify(stated)).not.toBe(last.get(part));
        last.set(part, JSON.stringify(stated));
      }
    expect(stages[0]!.steps).toEqual([{ after: 'join base', moved: [] }]);
  });

  it('compares features with a third of the tolerance of ISO 13920, class A over 30 to 400 mm', () => {
    const { features, worst } = accountAt(90);
    expect(features[0]).toMatchObject({ nominal: 65, tolerance: 1, limit: 0.333, class: 'A' });
    expect(features[0]!.within).toBe(features[0]!.deviation <= 0.333);
    expect(worst!.mm).toBeGreaterThanOrEqual(features[0]!.deviation);
  });
});
