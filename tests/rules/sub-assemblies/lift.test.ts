import { beforeAll, describe, expect, it } from 'vitest';
import { STANDARD_GRAVITY } from '../../../src/mechanics/system.js';
import { leastLift } from '../../../src/rules/sub-assemblies/lift.js';
import type { TackedGroup } from '../../../src/rules/sub-assemblies/hanging-group.js';
import {
  splitContext,
  type SplitContext,
  type WholePlan,
} from '../../../src/rules/sub-assemblies/split-context.js';
import { Planner } from '../../support/planned.js';
import { stackedPlan } from './stacked.js';

let whole: WholePlan;
let split: SplitContext;
let group: TackedGroup;

beforeAll(async () => {
  whole = stackedPlan(await Planner.load());
  split = splitContext(whole);
  group = split.groups[0]!.tacked;
});

const withTacks = (change: (tack: TackedGroup['tacks'][number]) => object): TackedGroup => ({
  ...group,
  tacks: group.tacks.map((tack) => ({ ...tack, ...change(tack) })),
});

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
    expect(leastLift(split.main, 'stand', group)).toEqual(whole.plan.subAssemblies![0]!.lift);
  });

  it('is by the tacks where these are weak: the riser hangs by its weight on two tacks and on nothing else', () => {
    const { grip } = split.main.plan.stages[1]!.handling[0]!;
    expect(grip.face.startsWith('cap/')).toBe(true);
    const strength = 40;
    const lift = leastLift(
      atRest(split.main),
      'stand',
      withTacks(() => ({ strength })),
    )!;
    const riser = group.scene.parts.find(({ part }) => part.id === 'riser')!;
    // By hand: both tacks pull up with all the strength that counts, 5 mm beside the middle of the riser, and the cap
    // presses down on it at the far edge of their contact, 40 mm less the edge allowance from the middle.
    const [pulled, edge] = [5, 40 - split.main.settings.steel['edge-allowance']];
    const carried = group.tacks.length * strength * split.main.settings.reductions.tack * (1 - pulled / edge);
    expect(lift.case).toBe('gravity');
    expect(lift.weakest).toBe('tack between riser and cap');
    expect(lift.reserve).toBeCloseTo(carried / (riser.mass * STANDARD_GRAVITY), 3);
  });

  it('grows with the strength of the tacks and never falls, up to what the grip and the arm carry', () => {
    const reserves = [10, 20, 100, 1000, 30_000].map(
      (strength) =>
        leastLift(
          split.main,
          'stand',
          withTacks(() => ({ strength })),
        )!.reserve,
    );
    for (const [i, reserve] of reserves.entries())
      if (i > 0) expect(reserve).toBeGreaterThanOrEqual(reserves[i - 1]! - 1e-6);
    expect(reserves[0]).toBeLessThan(1);
    expect(reserves.at(-1)).toBeLessThanOrEqual(whole.plan.subAssemblies![0]!.lift.reserve + 1e-6);
  });

  it('is nothing without tacks: the part that the pads do not hold falls', () => {
    const lift = leastLift(split.main, 'stand', { ...group, tacks: [] })!;
    expect(lift).toMatchObject({ case: 'gravity', reserve: 0 });
  });

  it('is not asked of what no stage brings', () => {
    expect(leastLift(split.main, 'stool', group)).toBeUndefined();
  });
});
