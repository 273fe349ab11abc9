import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/io/canonical.js';
import type { Plan } from '../../src/model/plan.js';
import { checkPlan } from '../../src/session/check.js';
import { planSession, type PlanOutcome } from '../../src/session/plan.js';
import { ENOUGH_STEPS, exampleFiles, Planner, sourcesOf } from '../support/planned.js';
import { PLAIN_STANDS, stand } from './small-stands.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

const root = fileURLToPath(new URL('../../', import.meta.url));
const command = join(root, 'dist/cli/main.js');

const newest = (folder: string): number =>
  Math.max(
    ...readdirSync(folder, { withFileTypes: true, recursive: true })
      .filter((entry) => entry.isFile())
      .map((entry) => statSync(join(entry.parentPath, entry.name)).mtimeMs),
  );

/** A build that is older than the sources says nothing about them. */
const built = existsSync(command) && statSync(command).mtimeMs >= newest(join(root, 'src'));

const [gusset, saddle, both] = PLAIN_STANDS.map(stand) as [
  ReturnType<typeof stand>,
  ReturnType<typeof stand>,
  ReturnType<typeof stand>,
];
const ring = { text: readFileSync(join(root, exampleFiles('ring-of-six').weldment), 'utf8'), name: 'ring' };

const planOf = (outcome: PlanOutcome): Plan => {
  expect(outcome.kind).toBe('planned');
  return (outcome as PlanOutcome & { kind: 'planned' }).plan;
};

describe('the same files, seed and steps', () => {
  it('give the same bytes twice, planned one after another and then the other way round', () => {
    const first = [gusset, saddle].map((files) => canonicalText(planner.plan(files)));
    const again = [saddle, gusset].map((files) => canonicalText(planOf(planner.outcomeAnew(files))));
    expect(again.toReversed()).toEqual(first);
  });

  it('give the same bytes whatever the order of the keys and the layout of the files', () => {
    const { weldment, cell } = sourcesOf(gusset);
    const upset = <T extends object>(entries: T): string =>
      JSON.stringify(Object.fromEntries(Object.entries(entries).toReversed()));
    const other = {
      weldment: { ...weldment, text: upset(gusset.weldment) },
      cell: { ...cell!, text: upset(gusset.cell) },
    };
    const outcome = planSession(other, { programs: planner.programs, steps: ENOUGH_STEPS });
    expect(canonicalText(planOf(outcome))).toBe(canonicalText(planner.plan(gusset)));
  });

  it.skipIf(!built)('give the same bytes from a fresh process of the built command', () => {
    const folder = mkdtempSync(join(tmpdir(), 'determinism-'));
    try {
      const { weldment, cell } = sourcesOf(both);
      const [weldmentFile, cellFile, out] = ['weldment.yaml', 'cell.yaml', 'plan.json'].map((name) =>
        join(folder, name),
      ) as [string, string, string];
      writeFileSync(weldmentFile, weldment.text);
      writeFileSync(cellFile, cell!.text);
      const run = spawnSync(
        process.execPath,
        [command, 'plan', weldmentFile, '--cell', cellFile, '--out', out, '--steps', String(ENOUGH_STEPS)],
        { encoding: 'utf8' },
      );
      expect(run.stderr).toBe('');
      expect(run.status).toBe(0);
      expect(readFileSync(out, 'utf8')).toBe(canonicalText(planner.plan(both)));
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('a budget that ends the search early', () => {
  const outcomes = (steps: number): PlanOutcome[] => [
    planner.outcome(both, steps),
    planSession({ weldment: ring }, { programs: planner.programs, steps }),
  ];

  it.each([1, 2, 4, 5])('of %i steps gives a plan without a whole proof, or none', (steps) => {
    for (const outcome of outcomes(steps)) {
      expect(['planned', 'none-found']).toContain(outcome.kind);
      if (outcome.kind === 'none-found') expect(outcome.states).toBe(steps);
      else expect(planOf(outcome).proof.states).toBeLessThanOrEqual(steps);
    }
  });

  it('first gives none, then a plan that is only feasible, then one with the whole proof', () => {
    const seen = [1, 2, 4, 5, ENOUGH_STEPS].map((steps) => {
      const outcome = planner.outcome(both, steps);
      return outcome.kind === 'planned' ? outcome.plan.proof.outcome : outcome.kind;
    });
    const ranks = seen.map((said) => ['none-found', 'feasible', 'optimal'].indexOf(said));
    expect(ranks).toEqual(ranks.toSorted((p, q) => p - q));
    expect(new Set(seen)).toEqual(new Set(['none-found', 'feasible', 'optimal']));
  });

  it('gives the same bytes twice', () => {
    const text = canonicalText(planner.outcome(both, 4));
    expect(canonicalText(planner.outcomeAnew(both, 4))).toBe(text);
  });
});

describe('a plan', () => {
  it.each([
    ['gusset', gusset],
    ['saddle', saddle],
    ['gusset and saddle', both],
  ])('read back from its text passes every rule: %s', (_, files) => {
    const text = canonicalText(planner.plan(files));
    const checked = checkPlan({ text, name: 'plan.json' }, sourcesOf(files), planner.programs);
    expect(checked).toMatchObject({ kind: 'judged', findings: [] });
    expect(canonicalText((checked as { plan: Plan }).plan)).toBe(text);
  });

  it('without shapes, read back from its text, passes every rule', () => {
    const plan = planOf(planSession({ weldment: ring }, { programs: planner.programs }));
    const checked = checkPlan(
      { text: canonicalText(plan), name: 'plan.json' },
      { weldment: ring },
      planner.programs,
    );
    expect(checked).toMatchObject({ kind: 'judged', findings: [] });
  });

  it('is not passed for the files of another weldment', () => {
    const text = canonicalText(planner.plan(gusset));
    const checked = checkPlan({ text, name: 'plan.json' }, sourcesOf(both), planner.programs);
    const rules = checked.kind === 'judged' ? checked.findings.map(({ rule }) => rule) : [];
    expect(rules).toContain('inputs-true');
    expect(rules).toContain('each-part-once');
  });
});
