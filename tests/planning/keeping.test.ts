import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { Budget } from '../../src/base/budget.js';
import type { Facts } from '../../src/facts/facts.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { planDocument } from '../../src/planning/document.js';
import { explainImpossible } from '../../src/planning/impossible.js';
import { factsOf, planWeldment } from '../../src/planning/plan.js';
import { provedProperties } from '../../src/rules/handshakes-safe.js';
import { exploredWitness } from '../../src/rules/run-witness.js';
import { findingsOf } from '../../src/session/check.js';
import { withFaults } from '../../src/session/plan.js';
import { exampleWith, inputsOf, Planner, story, type Files } from '../support/planned.js';
import { anyRow, rowFiles } from './random-weldments.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

/** The outcome and counters of a search, and the whole plan document or the reasons why there is none. */
interface Planned {
  readonly search: unknown;
  readonly plan: GeometricPlan | undefined;
  readonly impossible: unknown;
}

function factsFor(files: Files, keeping: boolean): Facts {
  const { weldment, cell, settings } = inputsOf(files);
  if (weldment.kind !== 'geometric' || !cell) throw new Error('no shapes');
  return factsOf(weldment, cell, settings, planner.programs, { keeping });
}

function planned(files: Files, keeping: boolean): Planned {
  const { weldment, weldmentDigest, cell, cellDigest } = inputsOf(files);
  const facts = factsFor(files, keeping);
  const report = planWeldment(facts, { budget: () => new Budget({ steps: 400 }) });
  const { outcome, best, counters, bound } = report.search;
  const search = { outcome, counters, bound };
  const inputs = {
    weldment: { name: weldment.name, digest: weldmentDigest },
    cell: { name: cell!.name, digest: cellDigest },
    warnings: [],
  };
  return {
    search,
    plan: best && planDocument(report, inputs),
    impossible: best ? undefined : explainImpossible(facts, () => new Budget({ steps: 20_000 })),
  };
}

/** What a session adds before the rules judge a plan. */
function withProof(plan: GeometricPlan, files: Files): GeometricPlan {
  const { scene, settings, programs } = factsFor(files, true);
  const { weldment, cell } = scene;
  const context = { weldment, cell, plan, settings, scene, programs };
  const properties = [...provedProperties(cell)];
  const safety = { ...plan.safety, properties, witness: exploredWitness(plan) };
  return withFaults({ ...plan, safety }, context);
}

/** Plans with answers kept and with every question worked out anew; says whether there was a plan. */
function expectSame(files: Files): 'planned' | 'impossible' {
  const kept = planned(files, true);
  expect(kept).toEqual(planned(files, false));
  if (!kept.plan) return 'impossible';
  expect(findingsOf(withProof(kept.plan, files), inputsOf(files), planner.programs)).toEqual([]);
  return 'planned';
}

describe('a plan made with kept answers', () => {
  it('is the plan of random rows of parts made with every answer worked out anew', () => {
    const ends = new Set<string>();
    fc.assert(
      fc.property(anyRow(), (row) => {
        ends.add(expectSame(rowFiles(row)));
      }),
      { numRuns: 3, seed: 23, endOnFailure: true },
    );
    expect(ends).toContain('planned');
    // Nothing is kept in half of it, so that it takes far longer than planning does.
  }, 900_000);

  it('is the same for a stand in which a part is turned over', () => {
    expect(expectSame(exampleWith('roller-stand', 'base', 'cheek-right', 'saddle-right'))).toBe('planned');
  });

  it('is the same where the work table turns between two parts', () => {
    expect(expectSame(story('turntable-makes-the-last-two-seams-possible'))).toBe('planned');
  });
});
