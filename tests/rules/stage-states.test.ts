import { describe, expect, it } from 'vitest';
import { rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import type { Gripper } from '../../src/model/gripper.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { arrivalLoads } from '../../src/rules/arrival-loads.js';
import type { HeldPart } from '../../src/rules/assembly.js';
import { stageStates, type StageMoment } from '../../src/rules/stage-states.js';
import { testCell } from '../support/cell.js';
import { magnetOf } from '../support/grippers.js';
import { standWeldment } from '../support/stand-weldment.js';

/** Base 0, wall 1, rib 2. */
const scene = buildScene(standWeldment(), testCell(), DEFAULT_SETTINGS);
/** A direction of the weldment in the cell, where it is turned by a quarter. */
const inCell = (way: Vec3): Vec3 => rotate(scene.cell.weldmentPose.turn, way);
const close = (v: Vec3): unknown => v.map((x) => expect.closeTo(x, 9));

describe('a part that arrives', () => {
  const names = (way: Vec3): unknown =>
    arrivalLoads(scene, 2, inCell(way), [0, 1], DEFAULT_SETTINGS).map(({ name, forces }) => [
      name,
      forces.map(({ part, force }) => [part, force]),
    ]);

  it('is pressed on what stops it and drags along what it slides on, both along its travel', () => {
    // The rib comes down along the wall onto the base, or along the base against the wall.
    expect(names([0, 0, -1])).toEqual([
      ['seating push on base', [[0, close([0, 0, -30])]]],
      ['sliding drag on wall', [[1, close([0, 0, -15])]]],
    ]);
    expect(names([0, -1, 0])).toEqual([
      ['sliding drag on base', [[0, close(inCell([0, -15, 0]))]]],
      ['seating push on wall', [[1, close(inCell([0, -30, 0]))]]],
    ]);
  });

  it('does nothing to what it moves away from', () => {
    expect(names([0, 0, 1])).toEqual([['sliding drag on wall', [[1, close([0, 0, 15])]]]]);
  });
});

describe('a wire stuck after a tack', () => {
  const tack = (robot: string, id: string): StageMoment['securing'][number] => ({
    robot,
    tack: { a: 0, b: 2, at: [0, 0, 0], along: [1, 0, 0], length: 40, strength: 1000 },
    touch: { id, at: [0, 0, 0], along: [1, 0, 0], open: [0, 0, 1] },
  });
  const holder: HeldPart = {
    ...{ part: 2, gripper: magnetOf({ id: 'magnet' }), robot: scene.cell.handlers[0]! },
    grip: { face: '+z', position: [0, 0], turn: 0 },
  };
  const counted = (...securing: StageMoment['securing']): readonly number[] =>
    stageStates(
      scene,
      {
        ...{ part: 2, direction: undefined, before: [0, 1], laid: [], placing: holder, held: true },
        ...{ heldOn: false, other: undefined, otherKept: false, securing, completing: [] },
        proofPull: undefined,
      },
      DEFAULT_SETTINGS,
    ).flatMap(({ state, assembly }) => (state === 'tacking' ? [assembly.tacks.length] : []));

  it('finds those that its own torch has laid; another may have laid none of its tacks by then', () => {
    expect(counted(tack('left', 'A'), tack('left', 'B'), tack('left', 'C'))).toEqual([1, 2, 3]);
    expect(counted(tack('left', 'A'), tack('right', 'B'), tack('left', 'C'))).toEqual([1, 1, 2]);
  });
});

describe('a loss of power', () => {
  const holdOf = (part: number, gripper: Gripper): HeldPart => ({
    ...{ part, gripper, robot: scene.cell.handlers[0]! },
    grip: { face: '+z', position: [0, 0], turn: 0 },
  });
  const lost = magnetOf({ id: 'lost', powerLoss: { kind: 'must-stand', seconds: 0 } });
  const kept = magnetOf({ id: 'kept', powerLoss: { kind: 'stored-seconds', seconds: 90 } });
  const stageOf = (own: Gripper, other?: Gripper): StageMoment => ({
    ...{ part: 2, direction: inCell([0, 0, -1]), before: [0, 1], laid: [], placing: holdOf(2, own) },
    ...{ held: true, heldOn: false, other: other && holdOf(1, other), otherKept: other !== undefined },
    ...{ securing: [], completing: [], proofPull: undefined },
  });
  const holders = (moment: StageMoment): unknown =>
    stageStates(scene, moment, DEFAULT_SETTINGS)
      .filter(({ state }) => state === 'power-lost')
      .map(({ assembly, loads }) => [assembly.held.map(({ gripper }) => gripper.id), loads]);

  it('is a state where a gripper lets go then, under gravity alone and with the holds that last', () => {
    expect(holders(stageOf(kept))).toEqual([]);
    expect(holders(stageOf(lost))).toEqual([[[], []]]);
    // What falls itself is nothing to stand by.
    const dropped = magnetOf({ id: 'dropped', powerLoss: { kind: 'exclusion-zone', seconds: 0 } });
    expect(holders(stageOf(lost, dropped))).toEqual([[[], []]]);
    expect(holders(stageOf(lost, kept))).toEqual([[['kept'], []]]);
    expect(holders(stageOf(lost, lost))).toEqual([[[], []]]);
  });
});

describe('two parts that are let go in one stage', () => {
  const laid = [1, 2].map((b) => ({
    ...{ a: 0, b, at: [b, 0, 0] as Vec3, along: [1, 0, 0] as Vec3, length: 40, strength: 1000 },
  }));
  const gripper = magnetOf({ id: 'magnet' });
  const holdOf = (part: number): HeldPart => ({
    ...{ part, gripper, robot: scene.cell.handlers[0]! },
    grip: { face: '+z', position: [0, 0], turn: 0 },
  });
  const missing = (otherKept: boolean): unknown =>
    stageStates(
      scene,
      {
        ...{ part: 2, direction: undefined, before: [0, 1], laid, placing: holdOf(2), held: true },
        ...{ heldOn: false, other: holdOf(1), otherKept, securing: [], completing: [], proofPull: undefined },
      },
      DEFAULT_SETTINGS,
    )
      .filter(({ state }) => state === 'one-tack-lost')
      .map(({ note, assembly }) => [note, assembly.tacks]);

  it('stand without any one tack of that which was held on, too', () => {
    expect(missing(true)).toEqual([['without tack 1 of wall', [laid[1]]]]);
    expect(missing(false)).toEqual([]);
  });
});
