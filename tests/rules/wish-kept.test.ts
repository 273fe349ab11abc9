import { describe, expect, it } from 'vitest';
import { isGrip } from '../../src/rules/wish-kept.js';

const grip = { gripper: 'magnet', face: '+z', position: [10, 0], turn: 90, group: null } as const;

describe('a wish for a grip', () => {
  it.each([
    [90, true],
    [-270, true],
    [450.05, true],
    [90.2, false],
    [-90, false],
  ])('asks for a turn of %s degrees up to whole turns: %s', (turn, fits) => {
    expect(isGrip({ turn }, grip)).toBe(fits);
  });

  it('asks for a group of pads, or with null for all pads; left out, any will do', () => {
    expect(isGrip({ group: null }, grip)).toBe(true);
    expect(isGrip({ group: 'inner' }, grip)).toBe(false);
    expect(isGrip({ group: 'inner' }, { ...grip, group: 'inner' })).toBe(true);
    expect(isGrip({ group: null }, { ...grip, group: 'inner' })).toBe(false);
    expect(isGrip({}, { ...grip, group: 'inner' })).toBe(true);
  });

  it('for a turn or a group is kept by no grip of which these are not known', () => {
    expect(isGrip({ turn: 0 }, { gripper: 'magnet' })).toBe(false);
    expect(isGrip({ group: null }, { gripper: 'magnet' })).toBe(false);
  });
});
