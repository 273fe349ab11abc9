import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.js';
import { weldingPosition } from '../../src/model/welding-position.js';

const DEGREE = Math.PI / 180;
const alongX: Vec3 = [1, 0, 0];
/** Open side of a level seam along x, this many degrees above the horizontal. */
const lookingUp = (degrees: number): Vec3 => [0, Math.cos(degrees * DEGREE), Math.sin(degrees * DEGREE)];
/** A run in the xz plane with this slope, and an open side square to it. */
const sloping = (degrees: number): Vec3 => [Math.cos(degrees * DEGREE), 0, Math.sin(degrees * DEGREE)];

describe('welding position', () => {
  it('of level seams, by the rotation of the open side: the main positions of ISO 6947', () => {
    const positions = [90, 45, 0, -45, -90].map((up) => weldingPosition(alongX, lookingUp(up)));
    expect(positions).toEqual(['PA', 'PB', 'PC', 'PD', 'PE']);
    // The side to which it opens, and the way of the run, make no difference.
    const other = [135, 180, 225].map((up) => weldingPosition([-1, 0, 0], lookingUp(up)));
    expect(other).toEqual(['PB', 'PC', 'PD']);
  });

  it('of upright seams, by the way of the run', () => {
    expect(weldingPosition([0, 0, 1], [1, 0, 0])).toBe('PF');
    expect(weldingPosition([0, 0, -1], [1, 0, 0])).toBe('PG');
  });

  it('changes halfway between the main positions, and on the limit is the flatter one', () => {
    const at = (up: number) => weldingPosition(alongX, lookingUp(up));
    expect([67.51, 67.5, 67.49, 22.5, 22.49].map(at)).toEqual(['PA', 'PA', 'PB', 'PB', 'PC']);
    expect([-22.5, -22.51, -67.5, -67.51].map(at)).toEqual(['PC', 'PD', 'PD', 'PE']);
    const run = (slope: number) => weldingPosition(sloping(slope), [0, 1, 0]);
    expect([45, 45.01, -45, -45.01].map(run)).toEqual(['PC', 'PF', 'PC', 'PG']);
  });

  it('measures the rotation in the plane square to a sloping run', () => {
    // A roof of 30 degrees: the open side square to it looks up as far as it can.
    const square: Vec3 = [-Math.sin(30 * DEGREE), 0, Math.cos(30 * DEGREE)];
    expect(weldingPosition(sloping(30), square)).toBe('PA');
  });
});
