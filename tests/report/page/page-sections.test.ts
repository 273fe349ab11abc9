import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../../src/model/plan.js';
import { claimText } from '../../../src/report/claim-text.js';
import { everyTack } from '../../../src/rules/stage-tacks.js';
import { MUTATIONS } from '../../rules/mutations.js';
import { testCell } from '../../support/cell.js';
import { handMadePlan } from '../../support/hand-made-plan.js';
import { standWeldment } from '../../support/stand-weldment.js';
import { storyPlan } from '../../support/story-plan.js';
import { tagsOf, textIn, valuesIn } from './markup.js';
import { pageOf, shapedContext } from './page-of.js';

let plan: GeometricPlan;
let page: string;
beforeAll(async () => {
  plan = handMadePlan(await loadLinearPrograms());
  page = pageOf(shapedContext({ plan, weldment: standWeldment(), cell: testCell() }));
});

const of = (changed: GeometricPlan, head: Parameters<typeof shapedContext>[1] = {}): string =>
  pageOf(shapedContext({ plan: changed, weldment: standWeldment(), cell: testCell() }, head));

describe('what must be read first', () => {
  it('says whether the plan was judged, and what it breaks', () => {
    expect(textIn(page, 'first')).toContain('Not judged for this page');
    expect(textIn(of(plan, { findings: [] }), 'first')).toContain('none is broken');
    const broken = of(plan, {
      findings: [{ rule: 'reach', where: 'stages[1]', message: 'too far', trace: ['why'] }],
    });
    expect(textIn(broken, 'first')).toMatch(
      /Do not use this plan.*1 finding.*reach : stages\[1\]: too far why/,
    );
  });

  it('has warnings before cautions, and where a part may fall between them', () => {
    const [stage, ...rest] = plan.stages;
    const zone = { at: [10.2, 20] as [number, number], radius: 345.1 };
    const lost = {
      part: 'base',
      gripper: 'single',
      kind: 'exclusion-zone' as const,
      seconds: null,
      zone,
    };
    const text = textIn(
      of({
        ...plan,
        warnings: ['mind this'],
        cautions: ['and that'],
        stages: [{ ...stage!, powerLoss: [lost] }, ...rest],
      }),
      'first',
    );
    expect(text).toMatch(/mind this.*nobody within 346 mm of 10, 20 in the cell.*and that/);
  });
});

describe('what the plan is worth', () => {
  it('states the claim as the terminal does, and value and bound of every term', () => {
    expect(textIn(page, 'proved')).toContain(claimText(plan));
    const stated = plan.objective.flatMap(({ value, bound }) => [value, bound]);
    expect(valuesIn(page, 'proved').slice(0, stated.length)).toEqual(stated);
  });

  it('tells wishes that are kept and broken', () => {
    const wish = { held: 'rib', soft: true, weight: 3, never: false } as const;
    const text = textIn(of({ ...plan, wishes: [{ wish, from: 'settings', kept: false }] }), 'proved');
    expect(text).toContain('broken, weight 3: rib is held while its securing tacks are laid (settings)');
  });

  it('tells why beside the stage that it is about, lines of the terminal joined again', () => {
    const why = [
      {
        question: { ask: 'before', first: 'base', second: 'rib' },
        has: { of: 'before', first: 'base', second: 'rib', stages: [1, 3] },
        verdict: {
          kind: 'forced',
          scope: 'file',
          reasons: [{ code: 'needs', subjects: ['rib', 'base'], fact: { kind: 'needs', part: 'rib' } }],
        },
      },
    ] as const;
    const tags = tagsOf(of(plan, { why }));
    const summary = tags.find((tag) => tag.name === 'summary' && !tag.closing)!;
    expect(summary.attributes.get('aria-label')).toBe('why, stage 3: forced');
    expect(textIn(of(plan, { why }), 'proved')).toContain('rib comes only after base (`needs`)');
  });
});

describe('stage sheets', () => {
  it('are there for every stage, with every tack of it in order and its distances', () => {
    for (const stage of plan.stages) {
      const id = `sheet-${stage.number}`;
      const text = textIn(page, id);
      expect(text).toContain(`Stage ${stage.number} of ${plan.stages.length}: ${stage.part} joins`);
      const tacks = [...everyTack(stage)].sort((a, b) => a.order - b.order);
      const values = valuesIn(page, id).join(' ');
      expect(values).toContain(
        tacks.flatMap(({ start, length, leg }) => [start, start + length, length, leg]).join(' '),
      );
      for (const { id: tack } of tacks) expect(text).toContain(tack);
    }
  });

  it('have a picture, mass, accuracy and the least reserves of the plan', () => {
    for (const { number, accuracy, reserves } of plan.stages) {
      const values = valuesIn(page, `sheet-${number}`);
      for (const { total } of accuracy) expect(values).toContain(total);
      if (reserves.length > 0) expect(values).toContain(Math.min(...reserves.map(({ reserve }) => reserve)));
      expect(textIn(page, `sheet-${number}`)).toMatch(/plate|block|hollow/);
    }
    expect(tagsOf(page).filter(({ name, closing }) => name === 'svg' && !closing).length).toBeGreaterThan(2);
  });

  it('say from when to when a part is held, as its program has it', () => {
    const stage = plan.stages.find(({ held }) => held !== null)!;
    const { steps } = plan.programs.find(({ robot }) => robot === stage.held)!;
    const [hold, letGo] = (['hold', 'let-go'] as const).map((kind) =>
      steps.find((step) => step.do === kind && step.part === stage.part)!,
    );
    expect(textIn(page, `sheet-${stage.number}`)).toMatch(
      new RegExp(`from .* \\(step ${hold!.n}\\) until .* \\(step ${letGo!.n}, not before `),
    );
  });

  it('warn of what the first try without arc lets fall', () => {
    const stage = plan.stages.find(({ proofPull }) => proofPull !== null)!;
    expect(textIn(page, `sheet-${stage.number}`)).toContain(
      `Stop first without tacks: ${stage.part} is not tacked`,
    );
  });

  it('have what a person does in a stage set by hand', async () => {
    const story = storyPlan('a-gusset-set-by-hand', await loadLinearPrograms());
    const made = pageOf(shapedContext(story));
    const stage = story.plan.stages.find(({ manual }) => manual !== undefined)!;
    const text = textIn(made, `sheet-${stage.number}`);
    expect(text).toContain(`a person sets ${stage.part}`);
    expect(valuesIn(made, `sheet-${stage.number}`)).toContain(stage.manual!.seconds);
    for (const { id } of stage.manual!.tacks) expect(text).toContain(`by hand: tack ${id}`);
  });
});

describe('handshakes and small print', () => {
  it('have every signal with its time limit, and every kind of fault with its count', () => {
    const values = valuesIn(page, 'handshakes');
    expect(values.slice(0, plan.handshakes.length)).toEqual(
      plan.handshakes.map(({ timeLimit }) => timeLimit),
    );
    const faults = values.slice(plan.handshakes.length);
    expect(faults.reduce((sum, one) => sum + one, 0)).toBe(plan.safety.faultRows);
    for (const { meaning, guards } of plan.handshakes)
      expect(textIn(page, 'handshakes')).toContain(`${meaning} ${guards}`);
  });

  it('have the settings that differ from the defaults, and the digests', () => {
    const { reserves } = plan.settings;
    const changed = of({ ...plan, settings: { ...plan.settings, reserves: { ...reserves, gravity: 1.9 } } });
    expect(textIn(changed, 'small-print')).toMatch(/reserves\.gravity [\d.]+ 1\.9/);
    const digest = 'ab'.repeat(32);
    expect(textIn(of({ ...plan, cell: { name: 'bench', digest } }), 'small-print')).toContain(digest);
  });
});

describe('a page of a plan that breaks a rule', () => {
  it.each(MUTATIONS)('is made too: $rule: $name', ({ mutate }) => {
    const spoiled = mutate({ weldment: standWeldment(), cell: testCell(), plan });
    const made = pageOf(
      shapedContext(spoiled!, { findings: [{ rule: 'one', where: 'here', message: 'broken' }] }),
    );
    expect(textIn(made, 'first')).toContain('Do not use this plan');
  });
});

describe('the outline of a page', () => {
  it('has one main, headings that skip no level, and tables that say what they are', () => {
    const tags = tagsOf(page).filter(({ closing }) => !closing);
    const named = (name: string): number => tags.filter((tag) => tag.name === name).length;
    expect([named('main'), named('h1'), named('nav'), named('header')]).toEqual([1, 1, 1, 1]);
    const levels = tags.flatMap(({ name }) => (/^h[1-6]$/.test(name) ? [Number(name[1])] : []));
    levels.forEach((level, i) => expect(level - (levels[i - 1] ?? 0)).toBeLessThan(2));
    expect(named('caption')).toBe(named('table'));
    for (const tag of tags) if (tag.name === 'th') expect(tag.attributes.get('scope')).toMatch(/^(col|row)$/);
  });

  it('leads to places that are there', () => {
    const tags = tagsOf(page).filter(({ closing }) => !closing);
    const ids = new Set(tags.map(({ attributes }) => attributes.get('id')));
    for (const { attributes } of tags) {
      const to =
        attributes.get('href')?.slice(1) ?? attributes.get('for') ?? attributes.get('aria-labelledby');
      if (to !== undefined) expect(ids).toContain(to);
    }
  });
});
