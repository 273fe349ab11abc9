import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { Budget } from '../../src/base/budget.js';
import { setOf } from '../../src/base/part-set.js';
import type { Facts } from '../../src/facts/facts.js';
import { FACT_KINDS, type ReasonFact } from '../../src/model/reason-fact.js';
import type { Weldment } from '../../src/model/weldment.js';
import { wishesOf } from '../../src/model/wish.js';
import { Asked, inGivingOrder, type ConflictFact, type Tally } from '../../src/planning/conflict-facts.js';
import { ConflictOracle } from '../../src/planning/conflict-oracle.js';
import { explainImpossible } from '../../src/planning/impossible.js';
import { everyAngle } from '../../src/planning/index-angles.js';
import { leftOutOf } from '../../src/planning/left-out.js';
import { factsOf } from '../../src/planning/plan.js';
import { exampleWith, inputsOf, Planner, story, type Files } from '../support/planned.js';
import { anyTroubled, troubledFiles } from './random-conflicts.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

function factsFor(files: Files): Facts {
  const { weldment, cell, settings } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('no shapes');
  return factsOf(weldment, cell, settings, planner.programs);
}

const plenty = (): Budget => new Budget({ steps: 20_000 });

/** The one fact of the oracle behind a reason. */
function factOf(oracle: ConflictOracle, facts: Facts, { kind, part, ...named }: ReasonFact): ConflictFact {
  const { index, weldment } = facts.scene;
  const at = (id: string): number => index.get(id)!;
  if (named.wish === undefined) return oracle.table.of(kind, at(part), named);
  const wish = wishesOf(weldment, facts.settings)[named.wish]!;
  if ('tack' in wish) {
    const [a, b] = wish.tack.map(at);
    return oracle.table.ofPair('wish', a!, b!, { wish: named.wish });
  }
  const later = 'before' in wish ? wish.before[wish.never ? 0 : 1] : part;
  return oracle.table.of('wish', at(later), { wish: named.wish });
}

/** Every so many random weldments are explained from fresh facts again, and planned by the real planner. */
const EVERY = 6;

describe('minimal sets of facts of small random weldments', () => {
  it('suffice, need each of theirs, share none, and are the same on repetition; the oracle is monotone', () => {
    const kinds = new Set<string>();
    const seen = { impossible: 0, several: 0, wishes: 0, runs: 0 };
    fc.assert(
      fc.property(anyTroubled(), fc.infiniteStream(fc.boolean()), (troubled, coins) => {
        const files = troubledFiles(troubled);
        const facts = factsFor(files);
        const said = explainImpossible(facts, plenty);
        const impossible = said.reasons[0]!.code !== 'unexplained';
        expect(explainImpossible(facts, plenty)).toEqual(said);
        seen.runs += 1;
        if (seen.runs % EVERY === 0) {
          expect(explainImpossible(factsFor(files), plenty)).toEqual(said);
          expect(planner.outcomeAnew(files).kind).toBe(impossible ? 'impossible' : 'planned');
        }
        if (!impossible) return;
        seen.impossible += 1;
        if (said.scope === 'any') return;
        const oracle = new ConflictOracle(facts, plenty);
        const sets = [said, ...said.also].map(({ reasons, needed }) => {
          expect(needed).toBe(reasons.length);
          return reasons.map(({ fact }) => factOf(oracle, facts, fact!));
        });
        if (sets.length > 1) seen.several += 1;
        expect(new Set(sets.flat()).size).toBe(sets.flat().length);
        for (const set of sets) {
          for (const { kind } of set) kinds.add(kind);
          if (set.some(({ wish }) => wish !== undefined)) seen.wishes += 1;
          expect(typeof oracle.test(set)).not.toBe('string');
          for (const one of set) expect(oracle.test(set.filter((fact) => fact !== one))).toBe('free');
        }
        // Any set of facts that leaves an order leaves one without some of them too.
        const some = oracle.table.met.filter(() => coins.next().value === true);
        const fewer = some.filter(() => coins.next().value === true);
        if (oracle.test(some) === 'free') expect(oracle.test(fewer)).toBe('free');
      }),
      { numRuns: 135, seed: 8, endOnFailure: true },
    );
    expect(seen.impossible).toBeGreaterThanOrEqual(100);
    expect(seen.several).toBeGreaterThan(30);
    expect(seen.wishes).toBeGreaterThan(30);
    // The others have stories (tests/stories/facts-told.test.ts): they are told only where fewer facts do not suffice.
    const inStories = ['rest', 'turning', 'arm-room', 'grips'];
    expect([...kinds].sort()).toEqual(FACT_KINDS.filter((kind) => !inStories.includes(kind)).sort());
  }, 900_000);
});

/** Two parts that block each other. */
const CROSSED = troubledFiles({
  blocks: 2,
  troubles: [
    { kind: 'blocking', of: 1, other: 2, much: 0 },
    { kind: 'blocking', of: 2, other: 1, much: 0 },
  ],
});

describe('a budget', () => {
  it('that ends before the first test explains nothing; one that ends later leaves a set that is said not to be minimised', () => {
    const facts = factsFor(CROSSED);
    const none = explainImpossible(facts, () => new Budget({ steps: 0 }));
    expect(none).toMatchObject({ needed: 0, also: [], reasons: [{ code: 'unexplained' }] });
    let tests = 0;
    const few = explainImpossible(
      factsFor(CROSSED),
      () => new Budget({ steps: (tests += 1) > 2 ? 0 : 20_000 }),
    );
    expect(few.reasons.length).toBeGreaterThan(0);
    expect(few.needed).toBeLessThan(few.reasons.length);
  });

  it('obeys a request to stop', () => {
    const stop = explainImpossible(
      factsFor(CROSSED),
      () => new Budget({ steps: 20_000, stopRequested: () => true }),
    );
    expect(stop.reasons[0]!.code).toBe('unexplained');
  });
});

describe('a sharp set', () => {
  const told = (files: Files) => {
    const { reasons, also } = explainImpossible(factsFor(files), plenty);
    return [reasons, ...also.map((set) => set.reasons)].map((set) =>
      set.map(({ fact, subjects }) => [fact!.kind, ...subjects].join(' ')),
    );
  };

  it.each([
    ['last-two-seams-too-far-without-a-turntable', [['torch right J3.1 foot'], ['torch left J2.1 foot']]],
    ['let-go-pull-tears-a-single-tack', [['reserve block']]],
  ])('of %s is one fact, whatever the file says about the order', (name, sets) => {
    const files = story(name);
    expect(told(files)).toEqual(sets);
    delete files.weldment.first;
    delete files.weldment.needs;
    expect(told(files)).toEqual(sets);
  });

  it('names the grips that the file gives, and not what a gripper carries that it does not give', () => {
    const files = exampleWith('roller-stand', 'base');
    const { parts, joints } = files.weldment;
    parts['p1'] = { block: { length: 50, width: 80, height: 40 }, at: [-110, 0, 30] };
    joints.push({ between: ['base', 'p1'], type: 'fillet', leg: 4, sides: 'both' });
    expect(Object.keys(files.cell.grippers)).toEqual(['magnet-wide', 'magnet-small']);
    parts['p1']['grips'] = [{ gripper: 'magnet-wide', face: '+z', position: [24, 39] }];
    expect(told(files)).toEqual([['grips p1 magnet-wide', 'capacity p1 magnet-wide']]);
  });
});

describe('what a state leaves out', () => {
  it('is told by how often it stood in the way', () => {
    const facts = factsFor(story('one-reason-is-enough'));
    const inPlace = setOf(2, [0]);
    const [{ reasons } = { reasons: [] }] = leftOutOf(facts, { inPlace, first: 0, angle: undefined }).left;
    const { joins, table } = new ConflictOracle(facts, plenty);
    const tally: Tally = new Map();
    const [at] = everyAngle(facts);
    joins.against(at!, { part: 1, inPlace, clamped: 0 }, Asked.counting(tally));
    const facted = reasons.map(({ fact }) => {
      const { kind, part, ...named } = fact!;
      return table.of(kind, facts.scene.index.get(part)!, named);
    });
    const times = facted.map((fact) => tally.get(fact)!);
    expect(times.length).toBeGreaterThan(4);
    expect(times).toEqual([...times].sort((p, q) => q - p));
    expect(facted).not.toEqual(inGivingOrder(facted).toReversed());
  });
});

describe('a wish in a minimal set', () => {
  const sets = (files: Files, ...wishes: readonly object[]) => {
    files.weldment.wishes = wishes;
    const { reasons, needed, also } = explainImpossible(factsFor(files), plenty);
    if (reasons[0]!.code === 'unexplained') return [['unexplained']];
    return [{ reasons, needed }, ...also].map((set) => {
      expect(set.needed).toBe(set.reasons.length);
      return set.reasons.map(({ code, fact }) => (fact?.wish === undefined ? code : `${code} ${fact.wish}`));
    });
  };
  const base = (near: readonly number[], more: object = {}) => ({ tack: ['base', 'south'], near, ...more });

  it('that a part be the first stands there once, and in one set only', () => {
    const files = story('one-tool-change');
    expect(sets(files, { first: 'south' }, { first: 'mid' })).toEqual([['wish 0', 'wish 1']]);
    files.weldment.needs = [{ part: 'south', after: ['mid'] }];
    expect(sets(files, { first: 'south' })).toEqual([['needs', 'wish 0']]);
  });

  it.each([
    ['out of reach', base([500, -130, 10])],
    ['where the others leave no room', base([0, -130, 10], { within: 15 })],
    ['nowhere at all', base([0, -130, 10], { within: 500, never: true })],
  ])('for a tack %s is named', (_, wish) => {
    expect(sets(story('one-tool-change'), wish)).toEqual([['wish 0']]);
  });

  it.each([
    ['two', [-26, -16], ['wish 0', 'wish 1']],
    ['two of three', [36, -26, -16], ['wish 1', 'wish 2']],
  ])('for a tack is named beside the one that leaves it no room: %s', (_, at, named) => {
    const wishes = at.map((x) => base([x, -130, 10], { within: 6 }));
    for (const one of wishes) expect(sets(story('one-tool-change'), one)).toEqual([['unexplained']]);
    const [first] = sets(story('one-tool-change'), ...wishes);
    expect(first!.toSorted()).toEqual(named);
  });

  it('for a tack, two on a part that a person sets, is named beside the other too', () => {
    const files = story('one-tool-change');
    const south = files.weldment.parts.south!;
    delete south.grips;
    south.manual = { seconds: 60 };
    const wishes = [-26, -16].map((x) => base([x, -130, 10], { within: 6 }));
    expect(sets(files, ...wishes)[0]!.toSorted()).toEqual(['wish 0', 'wish 1']);
  });

  it('for a tack that no order of its two parts keeps is named once', () => {
    const { cell, weldment } = story('one-tool-change');
    const parts = {
      p: { plate: { length: 300, width: 150, thickness: 10 }, at: [-76, 0, 5], turn: [0, 0, 90] },
      q: { block: { length: 100, width: 100, height: 60 }, at: [50, 0, 30] },
    } satisfies Files['weldment']['parts'];
    const files = { cell, weldment: { ...weldment, parts, joints: [{ between: ['p', 'q'] }] } } as Files;
    const [first, ...others] = sets(files, { tack: ['p', 'q'], near: [500, 0, 0] });
    expect(first).toEqual(['wish 0']);
    expect(others.flat()).not.toContain('wish 0');
  });

  it('that a part be held stands there beside the one that it be not', () => {
    const files = story('cube-needs-no-hold');
    files.weldment.wishes = [{ held: 'cube' }, { held: 'cube', never: true }];
    const { weldment, cell, settings } = inputsOf(files);
    const still = {
      'push-share': 0.05,
      'push-least': 15,
      'transport-acceleration': 1,
      'stop-acceleration': 1.5,
    };
    const loads = { ...settings.loads, ...still };
    const facts = factsOf(weldment as Weldment, cell!, { ...settings, loads }, planner.programs);
    const { reasons } = explainImpossible(facts, plenty);
    expect(reasons.flatMap(({ fact }) => fact?.wish ?? []).sort()).toEqual([0, 1]);
  });
});
