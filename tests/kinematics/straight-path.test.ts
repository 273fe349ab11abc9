import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { fromRollPitchYaw, NO_TURN, turnAbout } from '../../src/geometry/pose.js';
import { unit } from '../../src/geometry/vector.js';
import { axisAngle, straightPath } from '../../src/kinematics/straight-path.js';
import { between, poseDifference, radians } from './published-arms.js';

describe('axisAngle', () => {
  it('gives the rotation back, also near none and near half a turn', () => {
    const part = between(-1, 1);
    const angle = fc.oneof(between(0, Math.PI), between(Math.PI - 1e-7, Math.PI), between(0, 1e-7));
    fc.assert(
      fc.property(part, part, part, angle, (x, y, z, size) => {
        fc.pre(Math.hypot(x, y, z) > 0.01);
        const turn = turnAbout(unit([x, y, z]), size);
        const found = axisAngle(turn);
        expect(found.angle).toBeCloseTo(size, 12);
        const again = turnAbout(found.axis, found.angle);
        expect(poseDifference({ at: [0, 0, 0], turn }, { at: [0, 0, 0], turn: again })).toBeLessThan(1e-12);
      }),
      { seed: 8, numRuns: 1000 },
    );
    expect(axisAngle(NO_TURN)).toEqual({ axis: [0, 0, 1], angle: 0 });
  });
});

describe('straightPath', () => {
  it('ends where it should and is halfway in the middle', () => {
    const from = { at: [100, 0, 0] as const, turn: fromRollPitchYaw(0, 0, 20) };
    const to = { at: [100, 300, 400] as const, turn: fromRollPitchYaw(0, 0, 100) };
    const path = straightPath(from, to);
    expect(path.length).toBeCloseTo(500, 12);
    expect(path.turned).toBeCloseTo(radians(80), 12);
    expect(poseDifference(path.at(0), from)).toBeLessThan(1e-12);
    expect(poseDifference(path.at(1), to)).toBeLessThan(1e-12);
    const middle = { at: [100, 150, 200] as const, turn: fromRollPitchYaw(0, 0, 60) };
    expect(poseDifference(path.at(0.5), middle)).toBeLessThan(1e-12);
  });

  it('does not turn between equal turns', () => {
    const turn = fromRollPitchYaw(10, 20, 30);
    const path = straightPath({ at: [0, 0, 0], turn }, { at: [0, 0, 50], turn });
    expect(path.turned).toBe(0);
    expect(path.at(0.3).turn).toBe(turn);
  });
});
