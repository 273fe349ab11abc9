import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Facts } from '../../src/facts/facts.js';
import { CarryingTest } from '../../src/facts/grip-carries.js';
import { fromRollPitchYaw } from '../../src/geometry/pose.js';
import { factsOf } from '../../src/planning/plan.js';
import { example, inputsOf, Planner, story, type Files } from '../support/planned.js';

/** The plate of the story has the same places on both faces: from above and from below, level and sloped. */
const EXAMPLES: Readonly<Record<string, () => Files>> = {
  'roller-stand': () => example('roller-stand'),
  'box-beam': () => example('box-beam'),
  'a plate that is flipped over': () => story('flipped-over-on-the-stand'),
};
const facts = new Map<string, Facts>();

beforeAll(async () => {
  const { programs } = await Planner.load();
  for (const [name, files] of Object.entries(EXAMPLES)) {
    const { weldment, cell, settings } = inputsOf(files());
    if (weldment.kind !== 'geometric' || !cell) throw new Error(`${name} has no shapes`);
    // Far more is asked for than in practice, so that grips fall on both sides of the limit.
    const asked = { ...settings, reserves: { ...settings.reserves, gravity: 4, accident: 4 } };
    facts.set(name, factsOf(weldment, cell, asked, programs));
  }
});

/** Poses of which many are alike: quarter turns, and a few others. */
const anyTurn = () =>
  fc.tuple(
    fc.constantFrom(0, 90, 180, -90),
    fc.constantFrom(0, 90, 30),
    fc.constantFrom(0, 90, 180, -90, 45, -45, 20),
  );

describe.each(Object.keys(EXAMPLES))('whether pads carry the parts of %s', (name) => {
  it('is answered from what is kept, for poses alike up to a mirror, as it is when worked out anew', () => {
    const { scene, settings, programs } = facts.get(name)!;
    const kept = new CarryingTest(scene, settings, programs);
    const anew = new CarryingTest(scene, settings, programs, false);
    const said = new Set<boolean>();
    fc.assert(
      fc.property(fc.nat(), fc.nat(), anyTurn(), (partSeed, gripSeed, turn) => {
        const part = partSeed % scene.parts.length;
        const grips = facts.get(name)!.usableGrips(part);
        const grip = grips[gripSeed % grips.length]!;
        const pose = { at: [0, 0, 800] as const, turn: fromRollPitchYaw(...turn) };
        const [first, second] = [kept.refusal(part, grip, pose), anew.refusal(part, grip, pose)];
        said.add(first === undefined);
        expect({ ...first, value: undefined }).toEqual({ ...second, value: undefined });
        // Mirror images are solved as other programs, whose last bits differ; where next to nothing is carried, which of
        // several balanced answers is taken may differ too.
        if (first && second && second.value! > 0.5) expect(first.value).toBeCloseTo(second.value!, 6);
      }),
      { numRuns: 600, seed: 5, endOnFailure: true },
    );
    expect(said).toEqual(new Set([true, false]));
  });
});
