import { beforeAll, describe, expect, it } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { setOf, type PartSet } from '../../src/base/part-set.js';
import type { Facts } from '../../src/facts/facts.js';
import { seamAccess } from '../../src/facts/seam-access.js';
import type { Weldment } from '../../src/model/weldment.js';
import { factsOf } from '../../src/planning/plan.js';
import { TackLayouts } from '../../src/planning/tack-layout.js';
import { refusalText } from '../../src/report/refusal-text.js';
import { example, inputsOf, Planner, type CellEntries, type WeldmentEntries } from '../support/planned.js';

let programs: LinearPrograms;
beforeAll(async () => {
  ({ programs } = await Planner.load());
});

/** A wall on a base, with a block over the last part of one side that leaves the torch no room. */
const BESIDE: WeldmentEntries = {
  weldment: 'wall-beside-a-block',
  units: 'mm kg N s deg',
  parts: {
    base: { block: { length: 320, width: 220, height: 10 }, at: [0, 0, 5] },
    wall: { block: { length: 200, width: 8, height: 120 }, at: [0, 0, 70] },
    block: { block: { length: 80, width: 40, height: 100 }, at: [60, 26, 60] },
  },
  joints: [
    { between: ['base', 'wall'], sides: 'both' },
    { between: ['base', 'block'], sides: 'one', open: [0, 1, 1] },
  ],
} as WeldmentEntries;

function factsFor(weldment: WeldmentEntries, cell: CellEntries): Facts {
  const inputs = inputsOf({ weldment, cell });
  return factsOf(inputs.weldment as Weldment, inputs.cell!, inputs.settings, programs);
}

/** The parts with these names. */
const partsOf = ({ scene }: Facts, ...ids: readonly string[]): PartSet =>
  setOf(
    scene.parts.length,
    ids.map((id) => scene.index.get(id)!),
  );

describe('access to a seam', () => {
  it('tells each side its stretch, and what the torch meets on the rest', () => {
    const facts = factsFor(BESIDE, example('roller-stand').cell);
    const [joint] = facts.joints;
    const [far, near] = joint!.seams.toSorted((p, q) => p.open[1] - q.open[1]);
    const both = partsOf(facts, 'base', 'wall');
    const all = partsOf(facts, 'base', 'wall', 'block');
    for (const present of [both, all])
      expect(seamAccess(facts, joint!, far!, present)).toMatchObject({ against: [], stretches: [[10, 190]] });
    expect(seamAccess(facts, joint!, near!, both).against).toEqual([]);

    const beside = seamAccess(facts, joint!, near!, all);
    expect(beside.clear).toBeLessThan(beside.sites);
    expect(beside.reached).toBe(beside.clear);
    // The block covers the seam from x = 20 to 100, which is 120 to 200 mm along it or 0 to 80, by its direction.
    const forward = near!.to[0] > near!.from[0];
    const [[from, to]] = beside.stretches as [[number, number]];
    if (forward) expect([from, to <= 120]).toEqual([10, true]);
    else expect([from >= 80, to]).toEqual([true, 190]);
    expect(beside.against.map(({ code }) => code)).toEqual(['torch-blocked']);
    expect(beside.against[0]!.nearest.subjects).toEqual([joint!.id, near!.id, 'block']);
  });

  it('is told by a plan that is refused for the seam', () => {
    // From x = -30 on, the block leaves room for one tack where two are asked for.
    const block = {
      block: { length: 130, width: 40, height: 100 },
      at: [35, 26, 60] as [number, number, number],
    };
    const longer = { ...BESIDE, parts: { ...BESIDE.parts, block } };
    const facts = factsFor(longer, example('roller-stand').cell);
    const refusal = new TackLayouts(facts).lay(
      { part: facts.scene.index.get('wall')!, inPlace: partsOf(facts, 'base', 'block') },
      [],
    ).refusal!;
    expect(refusal.code).toBe('seam-not-coverable');
    expect(refusalText(refusal)).toMatch(
      /^J1\.\d, base, wall: seam cannot be tacked by the rules: sites open \d+ of \d+, from [\d.]+ to [\d.]+ mm; against the others: torch meets block$/,
    );
  });

  it('names the welding positions that are not allowed', () => {
    const { cell } = example('roller-stand');
    const process = { ...(cell.process as object), positions: { PA: {} } };
    const facts = factsFor(BESIDE, { ...cell, process });
    const [joint] = facts.joints;
    const access = seamAccess(facts, joint!, joint!.seams[0]!, partsOf(facts, 'base', 'wall'));
    expect(access).toMatchObject({ clear: 0, reached: 0, stretches: [] });
    expect(access.against).toMatchObject([
      { code: 'position-not-allowed', nearest: { subjects: [joint!.id, joint!.seams[0]!.id, 'PB'] } },
    ]);
  });

  it('has the number by which the arm misses', () => {
    const { cell } = example('roller-stand');
    const robots = {
      ...cell.robots,
      welder: { ...cell.robots.welder!, at: [3000, 0, 0] as [number, number, number] },
    };
    const facts = factsFor(BESIDE, { ...cell, robots });
    const [joint] = facts.joints;
    const { clear, reached, against } = seamAccess(
      facts,
      joint!,
      joint!.seams[0]!,
      partsOf(facts, 'base', 'wall'),
    );
    expect([clear > 0, reached]).toEqual([true, 0]);
    expect(against.map(({ code }) => code)).toEqual(['reach-too-far']);
    // The nearest site misses by least; 1,750 mm of shift exceed what the arm had in hand.
    expect(against[0]!.nearest.value).toBeGreaterThan(100);
    expect(against[0]!.nearest.value).toBeLessThan(1750);
  });
});
