import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { compareVectors } from '../../../src/base/order.js';
import { canonicalText } from '../../../src/io/canonical.js';
import type { Edit } from '../../../src/model/tried-remedy.js';
import { checkPlan } from '../../../src/session/check.js';
import type { Source, Sources } from '../../../src/session/inputs.js';
import { planSession, type PlanOutcome } from '../../../src/session/plan.js';
import { planOrRemedies, type RemedyOptions } from '../../../src/session/remedies/plan-or-remedies.js';

const programs = await loadLinearPrograms();
type Impossible = PlanOutcome & { kind: 'impossible' };

function story(name: string): Sources {
  const folder = new URL(`../../stories/${name}/`, import.meta.url);
  const source = (file: string, or?: string): Source | undefined => {
    const url = new URL(file, folder);
    if (existsSync(url)) return { text: readFileSync(url, 'utf8'), name: file };
    return or === undefined ? undefined : source(or);
  };
  return {
    weldment: source('weldment.yaml')!,
    cell: source('cell.yaml', '../bench.cell.yaml'),
    settings: source('settings.yaml'),
  };
}

/** A weldment without shapes of parts a to d. */
const relations = (more: string): Sources => ({
  weldment: {
    text: `weldment: relations\nunits: mm kg N s deg\nparts: { a: {}, b: {}, c: {}, d: {} }\n${more}`,
    name: 'relations.weldment.yaml',
  },
});

/** Puts the values of edits into files by hand, as a reader of the data would: no code of the search is used. */
function edited(sources: Sources, edits: readonly Edit[]): Sources {
  const put = (file: Edit['file'], source: Source | undefined): Source | undefined => {
    const own = edits.filter((edit) => edit.file === file);
    if (own.length === 0) return source;
    const value = (source ? parse(source.text, { merge: false }) : {}) as Record<string, unknown>;
    // Anchors of YAML are one object in memory: each place gets its own.
    const root = JSON.parse(JSON.stringify(value)) as Record<string, unknown>;
    for (const { path, to } of own) {
      let at = root as Record<string | number, unknown>;
      for (const key of path.slice(0, -1)) at = (at[key] ??= {}) as Record<string | number, unknown>;
      if (to === undefined) Reflect.deleteProperty(at, path.at(-1)!);
      else at[path.at(-1)!] = to;
    }
    return { ...source, name: source?.name ?? 'settings.yaml', text: JSON.stringify(root) };
  };
  return {
    weldment: put('weldment', sources.weldment)!,
    cell: put('cell', sources.cell),
    settings: put('settings', sources.settings),
  };
}

/** What each impossible input is, how many tries are spent on it here, and what of it helps, cheapest first. */
const INPUTS: Readonly<Record<string, readonly [Sources, RemedyOptions, helps: string[]]>> = {
  'a plate that peels off a small magnet': [
    story('peeled-magnet-small-pad'),
    { offered: 2, tries: 24 },
    ['grips-freed', 'larger-pads'],
  ],
  'a sheet too thin for its magnet': [
    story('thin-sheet-under-strong-magnet'),
    { offered: 2 },
    ['stronger-gripper', 'larger-pads'],
  ],
  'a plate of stainless steel where there are magnets only': [
    story('stainless-alone'),
    {},
    ['vacuum-gripper', 'set-by-hand'],
  ],
  'a block heavier than the payload': [story('heavier-than-the-payload'), {}, ['set-by-hand']],
  'a block taken so low that the wrist meets the table': [
    story('wrist-on-the-table'),
    { offered: 2 },
    ['grips-freed'],
  ],
  'a block on one tack that the let-go tears': [
    story('let-go-pull-tears-a-single-tack'),
    { offered: 1, tries: 6 },
    ['grips-freed'],
  ],
  'a cover that cannot be turned over': [story('flipping-needs-a-stand'), { offered: 1 }, ['rest-face']],
  'two pads that block each other': [
    story('blocking-each-other'),
    { offered: 2 },
    ['dropped-blocking', 'dropped-blocking'],
  ],
  'a part that needs what blocks it': [
    relations('needs: [{ part: a, after: [b] }]\nblocking: [{ part: a, by: [b] }]'),
    {},
    ['turned-needs', 'dropped-needs', 'turned-blocking', 'dropped-blocking'],
  ],
  'a first part that needs two others': [
    relations('first: a\nneeds: [{ part: a, after: [b, d] }]'),
    {},
    ['dropped-first'],
  ],
  'a first part that is the only contact of one that it blocks': [
    relations('contacts: [[a, b], [b, c], [c, d]]\nfirst: b\nblocking: [{ part: a, by: [b] }]'),
    {},
    ['dropped-first', 'turned-blocking', 'dropped-blocking'],
  ],
  'two groups that nothing joins': [relations('contacts: [[a, b], [c, d]]'), {}, ['added-contact']],
  'two parts that block each other': [
    relations('blocking: [{ part: a, by: [b, c] }, { part: b, by: [a] }]'),
    {},
    ['dropped-blocking', 'dropped-blocking'],
  ],
};

describe.each(Object.entries(INPUTS))('%s', (_, [sources, options, helps]) => {
  const outcome = planOrRemedies(sources, { programs }, options) as Impossible;

  it('is impossible, and something helps', () => {
    expect(outcome.kind).toBe('impossible');
    expect(outcome.remedies!.map(({ kind }) => kind)).toEqual(helps);
    expect(outcome.remedies!.length).toBeLessThanOrEqual(4);
  });

  it('gives a plan that the rules pass, with the stated objective, when a remedy is written into its files', () => {
    for (const { edits, objective, words } of outcome.remedies!) {
      const changed = edited(sources, edits);
      const planned = planSession(changed, { programs, steps: 2_000, firstOnly: true });
      if (planned.kind !== 'planned') throw new Error(`${words}: ${planned.kind}`);
      expect(planned.plan.objective.map(({ term, value }) => ({ term, value }))).toEqual(objective);
      const plan = { text: canonicalText(planned.plan), name: 'plan.json' };
      expect(checkPlan(plan, changed, programs), words).toMatchObject({ kind: 'judged', findings: [] });
    }
  });

  it('gives a plan at least as good where the best one is looked for', () => {
    for (const { edits, objective, words } of outcome.remedies!.slice(0, 1)) {
      const planned = planSession(edited(sources, edits), { programs, steps: 2_000 });
      if (planned.kind !== 'planned') throw new Error(`${words}: ${planned.kind}`);
      const best = planned.plan.objective.map(({ value }) => value);
      const first = objective.map(({ value }) => value);
      expect(compareVectors(best, first)).toBeLessThanOrEqual(0);
    }
  });
});

describe('two changes at once', () => {
  const twice = relations(
    'needs: [{ part: a, after: [b] }, { part: c, after: [d] }]\nblocking: [{ part: a, by: [b] }, { part: c, by: [d] }]',
  );

  it('are tried where two independent sets of facts rule every plan out, and each alone does not help', () => {
    const { also, remedies, remedySearch } = planOrRemedies(twice, { programs }) as Impossible;
    expect(also).toHaveLength(1);
    expect(remedies).toHaveLength(4);
    // Of each set a need or what blocks, dropped or turned round; two of one list are not changed at once.
    expect(remedySearch!.pairs).toBeLessThanOrEqual(8);
    for (const { kind, cost, edits, words } of remedies!) {
      expect({ kind, cost, lists: edits.map(({ path }) => path[0]).sort() }).toEqual({
        ...{ kind: 'two-changes', cost: 'order', lists: ['blocking', 'needs'] },
      });
      const changed = edited(twice, edits);
      expect(planSession(changed, { programs }).kind, words).toBe('planned');
      // Neither of the two is for nothing.
      for (const edit of edits)
        expect(planSession(edited(twice, [edit]), { programs }).kind, words).toBe('impossible');
    }
  });

  it('are not tried where one helps by itself', () => {
    const once = relations('needs: [{ part: a, after: [b] }]\nblocking: [{ part: a, by: [b] }]');
    expect((planOrRemedies(once, { programs }) as Impossible).remedySearch).not.toHaveProperty('pairs');
  });
});

describe('the search', () => {
  it('comes to the same when it is repeated', () => {
    const again = (): PlanOutcome =>
      planOrRemedies(story('peeled-magnet-small-pad'), { programs }, { tries: 9 });
    expect(canonicalText(again())).toBe(canonicalText(again()));
  });

  it('is left out where there is a plan, and when it was asked to stop it says so', () => {
    const ring = relations('blocking: [{ part: a, by: [b] }, { part: b, by: [a] }]');
    const stopped = planOrRemedies(ring, { programs, stopRequested: () => true });
    expect(stopped).toMatchObject({
      kind: 'impossible',
      remedies: [],
      remedySearch: { tries: 0, cutBy: 'stop' },
    });
    expect(planOrRemedies(relations(''), { programs }).kind).toBe('planned');
  });

  it('ends with the seconds that are given for all', () => {
    const ring = relations('blocking: [{ part: a, by: [b] }, { part: b, by: [a] }]');
    let now = 0;
    const clock = (): number => (now += 1);
    const outcome = planOrRemedies(ring, { programs, clock, seconds: 20 });
    expect(outcome).toMatchObject({ kind: 'impossible', remedySearch: { cutBy: 'seconds' } });
  });
});
