import { describe, expect, it } from 'vitest';
import { members } from '../../src/base/part-set.js';
import { ArmRoom, gripperAlone, torchLoad } from '../../src/facts/arm-room.js';
import { fromRollPitchYaw, NO_TURN, type Pose } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Joints } from '../../src/kinematics/arm.js';
import { linkPoints } from '../../src/kinematics/forward.js';
import type { Cell, Handler, Welder } from '../../src/model/cell.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { joints } from '../kinematics/published-arms.js';
import { testCell } from '../support/cell.js';
import { standWeldment } from '../support/stand-weldment.js';

const at = (x: number, y: number, z = 0, yaw = 0): Pose => ({
  at: [x, y, z],
  turn: yaw === 0 ? NO_TURN : fromRollPitchYaw(0, 0, yaw),
});
const FAR = at(9000, 9000);

/** Forearm and wrist level at 1420 mm, from 260 to 1220 mm before the base, turned by `first` about it. */
const level = (first: number): Joints => joints(first, 0, 0, 0, 0, 0);
const HEIGHT = 1420;
const FOREARM = 80;

/** The arms of the test bench with realistic links and forearms in line with their upper ends. */
function armed<R extends Handler | Welder>(robot: R, base: Pose): R {
  const radii = { column: 100, upperArm: 90, forearm: FOREARM, wrist: 60, dressPack: undefined };
  return { ...robot, base, arm: { ...robot.arm, a2: 0 }, home: level(-90), radii };
}

/** The handling arm stands at the origin and looks along x; all else is far away, unless it is said. */
function cellWith(change: Partial<Cell>): Cell {
  const cell = testCell();
  return {
    ...cell,
    handlers: [armed(cell.handlers[0]!, at(0, 0))],
    welders: [armed(cell.welders[0]!, FAR)],
    table: { ...cell.table, pose: at(5000, 0) },
    weldmentPose: at(5000, 0),
    regrip: { ...cell.regrip, pose: at(0, 5000) },
    keepOuts: [],
    ...change,
  };
}

const scene = (cell: Cell) => buildScene(standWeldment(), cell, DEFAULT_SETTINGS);
const roomOf = (cell: Cell): ArmRoom => new ArmRoom(scene(cell), cell.handlers[0]!, DEFAULT_SETTINGS);

/** What the arm without a gripper meets as it sweeps over the x axis. */
function sweep(cell: Cell, except?: number) {
  const { parts, fixed } = roomOf(cell).hits([], [level(-25), level(25)], except);
  return { parts: members(parts), fixed };
}

const NOTHING = { parts: [], fixed: undefined };
/** 10 mm are asked for. */
const TOP = (gap: number): number => HEIGHT - FOREARM - gap;
/** Half a millimetre is what an answer may be on the safe side. */
const [NEAR, CLEAR] = [9.9, 10.6];

describe('what an arm must keep clear of', () => {
  const block = (gap: number) => ({ size: [200, 60, 100] as Vec3, pose: at(700, 0, TOP(gap) - 50) });
  const over = { size: [60, 60, 60] as Vec3, pose: at(700, 4000, 0) };

  it('is a keep-out under its forearm, by its number', () => {
    expect(sweep(cellWith({ keepOuts: [over, block(NEAR)] }))).toEqual({ parts: [], fixed: 'keep-out 2' });
    expect(sweep(cellWith({ keepOuts: [over, block(CLEAR)] }))).toEqual(NOTHING);
  });

  it('is the work table and every station, whose tops stand at their poses', () => {
    const { table, regrip } = testCell();
    const tableAt = (gap: number) => cellWith({ table: { ...table, pose: at(900, 0, TOP(gap)) } });
    expect(sweep(tableAt(NEAR)).fixed).toBe('the work table');
    expect(sweep(tableAt(CLEAR))).toEqual(NOTHING);
    const regripAt = (gap: number) => cellWith({ regrip: { ...regrip, pose: at(900, 0, TOP(gap)) } });
    expect(sweep(regripAt(NEAR)).fixed).toBe('a station');
    expect(sweep(regripAt(CLEAR))).toEqual(NOTHING);
  });

  it('is the parts in their final places, but for the one that is its own', () => {
    // Of the stand the base is 10 mm high, wall and rib 130 mm; the weldment stands at the forearm's middle.
    const standing = (gap: number) => cellWith({ weldmentPose: at(700, 0, TOP(gap) - 130) });
    expect(sweep(standing(NEAR))).toEqual({ parts: [1, 2], fixed: undefined });
    expect(sweep(standing(NEAR), 1)).toEqual({ parts: [2], fixed: undefined });
    expect(sweep(standing(CLEAR))).toEqual(NOTHING);
  });

  it('is another arm as it stands at home, by its name', () => {
    const beside = (gap: number) => {
      // Looking back at the handling arm, its forearm beside that of the handling arm turned by no angle.
      const welder = armed(testCell().welders[0]!, at(1900, 2 * FOREARM + gap, 0, 180));
      return cellWith({ welders: [{ ...welder, home: level(0) }] });
    };
    const still = (cell: Cell) => roomOf(cell).hits([], [level(0)]).fixed;
    expect(still(beside(NEAR))).toBe('welder at home');
    // The torch before its flange reaches no farther to the side than its bend, away from the handling arm.
    const { at: tip } = testCell().welders[0]!.torch.tip;
    expect(Math.abs(tip[0])).toBeLessThan(FOREARM);
    expect(still(beside(CLEAR))).toBeUndefined();
  });

  it('is, for the welding arm, a handling arm at home with the envelopes of all grippers', () => {
    const [wide, single] = testCell().grippers;
    const handler = armed(testCell().handlers[0]!, at(0, 0));
    // Level at home, its flange at 1220, its x axis down: a gripper lies before it up to 1380, by half its length high.
    const cell = cellWith({ handlers: [{ ...handler, home: level(0) }] });
    expect([wide!.reach, wide!.envelope.length / 2, single!.envelope.length / 2]).toEqual([160, 70, 30]);
    const meets = (grippers: Cell['grippers'], gap: number): string | undefined => {
      // The forearm of the welding arm lies across it at 1300, so much above the larger gripper.
      const welder = armed(cell.welders[0]!, at(1300, -700, 70 + FOREARM + gap, 90));
      const room = new ArmRoom(scene({ ...cell, grippers, welders: [welder] }), welder, DEFAULT_SETTINGS);
      return room.hits([], [level(0)]).fixed;
    };
    expect(meets([single!, wide!], NEAR)).toBe('handler at home');
    expect(meets([single!, wide!], CLEAR)).toBeUndefined();
    expect(meets([single!], NEAR)).toBeUndefined();
  });

  it('is not what stands at its foot, for its column alone, unless it is a part or an arm', () => {
    const foot = { size: [60, 60, 300] as Vec3, pose: at(0, 0, 150) };
    expect(sweep(cellWith({ keepOuts: [foot] }))).toEqual(NOTHING);
    expect(sweep(cellWith({ weldmentPose: at(0, 0, 200) })).parts).toEqual([0, 1, 2]);
    const welder = { ...armed(testCell().welders[0]!, at(150, 0)), home: level(180) };
    expect(sweep(cellWith({ welders: [welder] })).fixed).toBe('welder at home');
  });

  it('is kept clear of by what is fixed to its flange too', () => {
    const cell = cellWith({ keepOuts: [{ size: [40, 400, 40], pose: at(1400, 0, HEIGHT) }] });
    const load = gripperAlone(cell.grippers[0]!);
    // The gripper is 160 mm long: its tip is at 1380, where the block begins.
    expect(linkPoints(cell.handlers[0]!.arm, level(0)).flange[0]).toBeCloseTo(1220, 9);
    expect(roomOf(cell).hits(load, [level(0)]).fixed).toBe('keep-out 1');
    expect(roomOf(cell).hits([], [level(0)]).fixed).toBeUndefined();
  });
});

describe('an arm that stands still', () => {
  it('is met by links and loads, or by all but load and load', () => {
    const {
      handlers,
      grippers,
      welders: [given],
    } = cellWith({});
    /** Flange against flange, so much apart; the gripper is 160 mm long, the torch 340. */
    const meets = (apart: number, load: 'loads' | 'links', pairs: 'all' | 'not loads'): boolean => {
      const welder = armed(given!, at(2 * 1220 + apart, 0, 0, 180));
      const cell = cellWith({ welders: [welder] });
      const standing = new ArmRoom(scene(cell), welder, DEFAULT_SETTINGS).standing(
        load === 'loads' ? torchLoad(welder) : [],
        level(0),
      );
      const own = load === 'loads' ? gripperAlone(grippers[0]!) : [];
      return new ArmRoom(scene(cell), handlers[0]!, DEFAULT_SETTINGS).meets(own, [level(0)], standing, pairs);
    };
    expect(meets(450, 'loads', 'all')).toBe(true);
    expect(meets(450, 'loads', 'not loads')).toBe(false);
    expect(meets(520, 'loads', 'all')).toBe(false);
    // The torch against the wrist, 60 mm before the flange.
    expect(meets(340, 'loads', 'not loads')).toBe(true);
    // Ends of capsules of 60 mm.
    expect(meets(120 + NEAR, 'links', 'not loads')).toBe(true);
    expect(meets(120 + CLEAR, 'links', 'all')).toBe(false);
  });
});
