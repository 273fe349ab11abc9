import { describe, expect, it } from 'vitest';
import { compose, fromRollPitchYaw, type Pose } from '../../src/geometry/pose.js';
import { motionOf, movables, movedCell, moveSize, type CellMove } from '../../src/model/cell-move.js';
import { testCell } from '../support/cell.js';

const near = (got: Pose, wanted: Pose): void => {
  [...got.at, ...got.turn].forEach((x, i) => expect(x).toBeCloseTo([...wanted.at, ...wanted.turn][i]!, 9));
};

const move = (change: Partial<CellMove>): CellMove => ({
  moved: { what: 'table' },
  shift: [0, 0, 0],
  degrees: 0,
  ...change,
});

describe('moveSize', () => {
  it('is the length of the shift and five millimetres a degree', () => {
    expect(moveSize(move({ shift: [30, -40, 0] }))).toBe(50);
    expect(moveSize(move({ shift: [0, 0, -50], degrees: -15 }))).toBe(125);
  });
});

describe('movedCell', () => {
  const cell = {
    ...testCell(),
    weldmentPose: { at: [100, 0, 500], turn: fromRollPitchYaw(0, 0, 90) } as Pose,
  };

  it('turns the weldment about the centre of the table, and shifts both', () => {
    const moved = movedCell(cell, move({ shift: [10, 20, 30], degrees: 90 }));
    near(moved.table.pose, { at: [10, 20, 530], turn: fromRollPitchYaw(0, 0, 90) });
    near(moved.weldmentPose, { at: [10, 120, 530], turn: fromRollPitchYaw(0, 0, 180) });
  });

  it('turns a base where it stands', () => {
    const moved = movedCell(cell, move({ moved: { what: 'robot', id: 'welder' }, degrees: -30 }));
    near(moved.welders[0]!.base, { at: cell.welders[0]!.base.at, turn: fromRollPitchYaw(0, 0, 150) });
  });

  it('leaves everything else where it is', () => {
    for (const moved of movables(cell)) {
      const after = movedCell(cell, move({ moved, shift: [50, 0, 0], degrees: 15 }));
      const same = (before: unknown, now: unknown): void => expect(now).toEqual(before);
      same(cell.keepOuts, after.keepOuts);
      same(cell.grippers, after.grippers);
      same(cell.regrip, after.regrip);
      if (moved.what !== 'infeed') same(cell.infeed, after.infeed);
      if (moved.what !== 'table') same([cell.table, cell.weldmentPose], [after.table, after.weldmentPose]);
      for (const [i, robot] of cell.handlers.entries())
        if (moved.what !== 'robot' || moved.id !== robot.id) same(robot, after.handlers[i]);
    }
  });

  it('is what motionOf does to the poses that go along', () => {
    const turned = move({ shift: [-50, 100, 0], degrees: 45 });
    const motion = motionOf(cell, turned);
    const after = movedCell(cell, turned);
    near(after.table.pose, compose(motion, cell.table.pose));
    near(after.weldmentPose, compose(motion, cell.weldmentPose));
  });
});
