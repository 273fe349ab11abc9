import { beforeAll, describe, expect, it } from 'vitest';
import { STANDARD_GRAVITY } from '../../../src/mechanics/system.js';
import type { Inside } from '../../../src/model/scene.js';
import { leastLift } from '../../../src/rules/sub-assemblies/lift.js';
import {
  splitContext,
  type SplitContext,
  type WholePlan,
} from '../../../src/rules/sub-assemblies/split-context.js';
import { Planner } from '../../support/planned.js';
import { stackedPlan } from './stacked.js';

let whole: WholePlan;
let split: SplitContext;
let inside: Inside;

beforeAll(async () => {
  whole = stackedPlan(await Planner.load());
  split = splitContext(whole);
  inside = split.main.scene.insides[stand()]!;
});

const stand = (): number => split.main.scene.index.get('stand')!;

/** As if these were the tacks within the sub-assembly. */
const withTacks = (tacks: Inside['tacks'], main = split.main): SplitContext['main'] => {
  const { scene } = main;
  const insides = scene.insides.map((own, part) => (part === stand() ? { ...inside, tacks } : own));
  return { ...main, scene: { ...scene, insides } };
};

const allOf = (strength: number): Inside['tacks'] => inside.tacks.map((tack) => ({ ...tack, strength }));

/** As if nothing but the weight counted: no inertia. */
const atRest = (main: SplitContext['main']): SplitContext['main'] => ({
  ...main,
  settings: {
    ...main.settings,
    loads: { ...main.settings.loads, 'stop-acceleration': 0, 'transport-acceleration': 0 },
  },
});

describe('how surely a sub-assembly is lifted', () => {
  it('is what the plan states', () => {
    expect(leastLift(split.main, 'stand')).toEqual(whole.plan.subAssemblies![0]!.lift);
  });

  it('is by the tacks where these are weak: the riser hangs by its weight on two tacks and on nothing else', () => {
    const { grip } = split.main.plan.stages[1]!.handling[0]!;
    expect(grip.face.startsWith('cap/')).toBe(true);
    const strength = 40;
    const lift = leastLift(withTacks(allOf(strength), atRest(split.main)), 'stand')!;
    const riser = inside.members.find(({ id }) => id === 'riser')!;
    // By hand: both tacks pull up with all the strength that counts, 5 mm beside the middle of the riser, and the cap
    // presses down on it at the far edge of their contact, 40 mm less the edge allowance from the middle.
    const [pulled, edge] = [5, 40 - split.main.settings.steel['edge-allowance']];
    const carried =
      inside.tacks.length * strength * split.main.settings.reductions.tack * (1 - pulled / edge);
    expect(lift.case).toBe('gravity');
    expect(lift.weakest).toBe('tack between riser and cap');
    expect(lift.reserve).toBeCloseTo(carried / (riser.mass * STANDARD_GRAVITY), 3);
  });

  it('grows with the strength of the tacks and never falls, up to what the grip and the arm carry', () => {
    const reserves = [10, 20, 100, 1000, 30_000].map(
      (strength) => leastLift(withTacks(allOf(strength)), 'stand')!.reserve,
    );
    for (const [i, reserve] of reserves.entries())
      if (i > 0) expect(reserve).toBeGreaterThanOrEqual(reserves[i - 1]! - 1e-6);
    expect(reserves[0]).toBeLessThan(1);
    expect(reserves.at(-1)).toBeLessThanOrEqual(whole.plan.subAssemblies![0]!.lift.reserve + 1e-6);
  });

  it('is nothing without tacks: the part that the pads do not hold falls', () => {
    const lift = leastLift(withTacks([]), 'stand')!;
    expect(lift).toMatchObject({ case: 'gravity', reserve: 0 });
  });

  it('is not asked of what no stage brings', () => {
    expect(leastLift(split.main, 'stool')).toBeUndefined();
  });
});
