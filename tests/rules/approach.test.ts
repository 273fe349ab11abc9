import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { IDENTITY } from '../../src/geometry/pose.js';
import type { Weldment } from '../../src/model/weldment.js';
import { approachFree } from '../../src/rules/approach-free.js';
import { approachLongEnough } from '../../src/rules/approach-long-enough.js';
import { barePlan } from '../support/bare-plan.js';
import { testCell } from '../support/cell.js';
import { contextOf } from '../support/hand-made-plan.js';
import { plateShape, standWeldment, steelPart } from '../support/stand-weldment.js';

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** Two cheeks 100 mm apart on a base and a web of the given width between them. */
const cheeks = (width: number): Weldment => ({
  ...standWeldment(),
  parts: [
    steelPart('base', plateShape(300, 200, 10), [0, 0, 5]),
    steelPart('left', plateShape(100, 150, 10), [-55, 0, 60], [0, 90, 0]),
    steelPart('right', plateShape(100, 150, 10), [55, 0, 60], [0, 90, 0]),
    steelPart('web', plateShape(width, 80, 10), [0, 0, 50], [90, 0, 0]),
  ],
  joints: undefined,
});

const context = (weldment: Weldment, direction: Vec3, distance: number) => {
  const plan = barePlan('base', 'left', 'right', 'web');
  const cell = { ...testCell(), weldmentPose: { ...IDENTITY, at: [0, 0, 500] as Vec3 } };
  plan.stages[3]!.approach = { direction: [...direction] as [number, number, number], distance };
  return contextOf(plan, programs, weldment, cell);
};

describe('approach-free', () => {
  it('lets a web slide in between two cheeks with a millimetre of play, not with less', () => {
    expect(approachFree.judge(context(cheeks(99), [0, 0, -1], 500))).toEqual([]);
    const tight = approachFree.judge(context(cheeks(99.2), [0, 0, -1], 500));
    expect(tight).toHaveLength(1);
    expect(tight[0]!.value).toBeCloseTo(0.8, 6);
    expect(tight[0]!.limit).toBe(1);
  });

  it('sums the play of both sides, wherever the web is', () => {
    const aside = cheeks(99);
    const parts = aside.parts.map((part) =>
      part.id === 'web' ? steelPart('web', plateShape(99, 80, 10), [-0.5, 0, 50], [90, 0, 0]) : part,
    );
    expect(approachFree.judge(context({ ...aside, parts }, [0, 0, -1], 500))).toEqual([]);
  });

  it('says what is met after how many millimetres', () => {
    const [finding, ...others] = approachFree.judge(context(cheeks(99), [1, 0, 0], 300));
    expect(others).toEqual([]);
    // The web's front starts at x = -250.5 and meets the left cheek's outer face at x = -60.
    expect(finding!.message).toContain('left');
    expect(finding!.value).toBeCloseTo(190.5, 0);
  });

  it('wants a unit vector', () => {
    expect(approachFree.judge(context(cheeks(99), [0, 0, 0], 300))[0]).toMatchObject({ value: 0, limit: 1 });
    expect(approachFree.judge(context(cheeks(99), [0, 0, -2], 300))[0]).toMatchObject({ value: 2, limit: 1 });
  });

  it('sees the table and a part that comes from below', () => {
    const findings = approachFree.judge(context(cheeks(99), [0, 0, 1], 300));
    expect(findings.map(({ message }) => message.split(' ')[2])).toEqual(['base', 'the']);
  });
});

describe('approach-long-enough', () => {
  it('wants the start above all that stands', () => {
    // The cheeks end 110 mm above the table, the web at 10: 100 mm and a bit.
    expect(approachLongEnough.judge(context(cheeks(99), [0, 0, -1], 100.5))).toEqual([]);
    const short = approachLongEnough.judge(context(cheeks(99), [0, 0, -1], 99));
    expect(short).toMatchObject([{ where: 'stages[3].approach.distance', value: 99 }]);
    expect(approachLongEnough.judge(context(cheeks(99), [0, 0, -1], 79))).toMatchObject([
      { value: 79, limit: 80 },
    ]);
  });
});
