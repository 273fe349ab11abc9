import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { DEFAULT_SETTINGS } from '../../../src/model/settings.js';
import type { Weldment } from '../../../src/model/weldment.js';
import { factsOf } from '../../../src/planning/plan.js';
import type { Promises } from '../../../src/session/sub-assemblies/promise.js';
import { LARGEST, proposalsOf } from '../../../src/session/sub-assemblies/proposals.js';
import { example, inputsOf, type Files } from '../../support/planned.js';

const programs = await loadLinearPrograms();
const factsFor = (files: Files) => {
  const { weldment, cell } = inputsOf(files);
  return factsOf(weldment as Weldment, cell!, DEFAULT_SETTINGS, programs);
};
const stand = factsFor(example('roller-stand'));

const promising = (saves: Readonly<Record<string, number>>): Promises =>
  new Map(Object.entries(saves).map(([part, value]) => [part, { saves: [value], waits: 0 }]));

describe('proposals of sub-assemblies', () => {
  it('are pairs with a neighbour first where one part promises something', () => {
    const { groups } = proposalsOf({ facts: stand, promises: promising({ gusset: 1 }), first: 'base' });
    const joined = stand.joints.flatMap(({ a, b }) =>
      [a, b].some((part) => stand.scene.parts[part]!.part.id === 'gusset')
        ? [a, b].map((part) => stand.scene.parts[part]!.part.id).filter((id) => id !== 'gusset')
        : [],
    );
    const neighbours = joined.filter((id) => id !== 'base');
    expect(neighbours.length).toBeGreaterThan(0);
    const pairs = groups.slice(0, neighbours.length);
    expect(pairs.map((pair) => pair.find((id) => id !== 'gusset')).sort()).toEqual(neighbours.sort());
    expect(groups.every((group) => group.includes('gusset') && group.length <= LARGEST)).toBe(true);
  });

  it('never have the part that stands first', () => {
    const { groups } = proposalsOf({ facts: stand, promises: promising({ base: 1, web: 1 }), first: 'base' });
    expect(groups.length).toBeGreaterThan(0);
    expect(groups.some((group) => group.includes('base'))).toBe(false);
  });

  it('put what promises more first', () => {
    const { groups } = proposalsOf({
      ...{ facts: stand, first: 'base' },
      promises: promising({ 'saddle-left': 1, 'saddle-right': 2 }),
    });
    expect(groups[0]).toContain('saddle-right');
  });

  it('are none where nothing is to be gained', () => {
    const { groups, liftable } = proposalsOf({ facts: stand, promises: new Map(), first: 'base' });
    expect(groups).toEqual([]);
    expect(liftable).toBeGreaterThan(0);
  });

  it('are no heavier with a gripper than a robot carries', () => {
    const files = example('roller-stand');
    const { handlers, grippers } = stand.scene.cell;
    const carried = handlers[0]!.payload.mass - Math.min(...grippers.map(({ mass }) => mass));
    const cheek = { ...files.weldment.parts['cheek-left']!, mass: carried - 1 };
    const heavy = factsFor({
      ...files,
      weldment: { ...files.weldment, parts: { ...files.weldment.parts, 'cheek-left': cheek } },
    });
    const promises = promising({ 'cheek-left': 1 });
    const { scene } = heavy;
    const { groups } = proposalsOf({ facts: heavy, promises, first: 'base' });
    const massOf = (group: readonly string[]): number =>
      group.reduce((sum, id) => sum + scene.parts[scene.index.get(id)!]!.mass, 0);
    for (const group of groups) expect(massOf(group)).toBeLessThanOrEqual(carried);
    const before = proposalsOf({ facts: stand, promises, first: 'base' }).groups;
    expect(groups.length).toBeLessThan(before.length);
  });

  it('leave out what a person sets', () => {
    const files = example('roller-stand');
    const gusset = { ...files.weldment.parts.gusset!, manual: true };
    const parts = { ...files.weldment.parts, gusset };
    const byHand = factsFor({ ...files, weldment: { ...files.weldment, parts } });
    const { groups } = proposalsOf({ facts: byHand, promises: promising({ gusset: 1 }), first: 'base' });
    expect(groups).toEqual([]);
  });
});
