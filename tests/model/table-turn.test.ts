import { describe, expect, it } from 'vitest';
import { compose, fromRollPitchYaw, inverse, NO_TURN, place, type Pose } from '../../src/geometry/pose.js';
import { block } from '../../src/geometry/shapes.js';
import { placeSolid } from '../../src/geometry/solid.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Cell, Turntable } from '../../src/model/cell.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import {
  cellAt,
  inCellAt,
  sceneAt,
  seenFromTable,
  tableAnyhow,
  tablePose,
  turnBetween,
  turningRoom,
  turnSeconds,
} from '../../src/model/table-turn.js';
import { testCell } from '../support/cell.js';
import { standWeldment } from '../support/stand-weldment.js';

const turntable: Turntable = {
  ...{ angles: [0, 90, 180], axis: [100, 50], speed: 45, acceleration: 90, settle: 1, commander: 'welder' },
};
const still = testCell();
const cell: Cell = { ...still, table: { ...still.table, turntable } };
const near = (v: Vec3) => v.map((x) => expect.closeTo(x, 9));

describe('a turn of the table', () => {
  it('goes about the vertical axis, counted from above: a quarter takes what is ahead of it to its left', () => {
    expect(place(tablePose(turntable, 90), [300, 50, 7])).toEqual(near([100, 250, 7]));
    expect(place(tablePose(turntable, -90), [300, 50, 7])).toEqual(near([100, -150, 7]));
    expect(place(tablePose(turntable, 30), [100, 50, 7])).toEqual(near([100, 50, 7]));
  });

  it('and back is none, and none is none', () => {
    const there = compose(seenFromTable(cell, 37), inCellAt(cell, 37));
    expect(there.at).toEqual(near([0, 0, 0]));
    expect(there.turn).toEqual(NO_TURN.map((x) => expect.closeTo(x, 12)));
    expect(seenFromTable(cell, 0).turn).toEqual(NO_TURN);
    expect(seenFromTable(still, 90).turn).toEqual(NO_TURN);
  });

  it('takes the shorter way, d/v + v/a or 2 sqrt(d/a) as elementary kinematics has it, and settles', () => {
    expect([turnBetween(0, 90), turnBetween(270, 0), turnBetween(-90, 270), turnBetween(180, 0)]).toEqual([
      90, 90, 0, 180,
    ]);
    // 45 degrees/s need 22.5 degrees to get up to speed and to stop: 90/45 + 45/90 s, and one to settle.
    expect(turnSeconds(turntable, 0, 90)).toBeCloseTo(3.5, 12);
    expect(turnSeconds(turntable, 350, 0)).toBeCloseTo(1 + 2 * Math.sqrt(10 / 90), 12);
  });
});

describe('the cell as seen from the table', () => {
  it('is itself at 0, or where the table stands still', () => {
    expect(cellAt(cell, 0)).toBe(cell);
    expect(cellAt(still, 90)).toBe(still);
    const scene = buildScene(standWeldment(), cell, DEFAULT_SETTINGS);
    expect(sceneAt(scene, 0)).toBe(scene);
  });

  it('has what stands in the cell turned back about the axis, and weldment and table where they were', () => {
    const seen = cellAt(cell, 90);
    // The handler stands at (-1250, 0), (-1350, -50) from the axis; a quarter back is (-50, 1350).
    expect(seen.handlers[0]!.base.at).toEqual(near([50, 1400, 0]));
    expect(seen.handlers[0]!.base.turn).toEqual(
      fromRollPitchYaw(0, 0, -90).map((x) => expect.closeTo(x, 12)),
    );
    // The keep-out at (0, 900), (-100, 850) from the axis: (850, 100).
    expect(seen.keepOuts[0]!.pose.at).toEqual(near([950, 150, 300]));
    expect(seen.table).toBe(cell.table);
    expect(seen.weldmentPose).toBe(cell.weldmentPose);
  });

  it('keeps every distance between robot and weldment that there is in the cell with the table turned', () => {
    const flange: Pose = { at: [320, -40, 610], turn: fromRollPitchYaw(180, 12, 25) };
    for (const angle of [90, 137]) {
      const really = compose(inverse(cell.welders[0]!.base), compose(inCellAt(cell, angle), flange));
      const seen = compose(inverse(cellAt(cell, angle).welders[0]!.base), flange);
      expect(seen.at).toEqual(near(really.at));
      expect(seen.turn).toEqual(really.turn.map((x) => expect.closeTo(x, 9)));
    }
  });

  it('has the solids of its keep-outs in its scene', () => {
    const scene = sceneAt(buildScene(standWeldment(), cell, DEFAULT_SETTINGS), 90);
    const { low, high } = scene.keepOuts[0]!.bounds;
    expect([low, high]).toEqual([near([850, 50, 0]), near([1050, 250, 600])]);
  });
});

describe('the room in which something turns', () => {
  it('is a round one that contains it at every angle, hardly larger', () => {
    const bar = placeSolid(block(200, 20, 30), { at: [300, 50, 515], turn: NO_TURN });
    const { bounds, pieces } = turningRoom(turntable, bar);
    const radius = Math.hypot(300, 10);
    expect([bounds.low[2], bounds.high[2]]).toEqual([500, 530]);
    for (const { vertices } of pieces)
      for (const [x, y] of vertices) {
        const reach = Math.hypot(x - 100, y - 50);
        expect(reach).toBeGreaterThanOrEqual(radius - 1e-9);
        expect(reach).toBeLessThan(radius * 1.005);
      }
  });

  it('is that of the table where it turns, and the table itself where it does not', () => {
    const [turning, standing] = [cell, still].map((one) =>
      buildScene(standWeldment(), one, DEFAULT_SETTINGS),
    );
    expect(tableAnyhow(standing!)).toBe(standing!.table);
    // A table of 800 by 600 about its own middle would need 500 mm; its axis is 100 and 50 mm aside.
    expect(tableAnyhow(turning!).bounds.high[0]).toBeCloseTo(100 + Math.hypot(500, 350), 6);
  });
});
