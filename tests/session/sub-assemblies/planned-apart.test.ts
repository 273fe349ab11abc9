import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { canonicalText } from '../../../src/io/canonical.js';
import { issueLine } from '../../../src/model/issue.js';
import type { GeometricPlan } from '../../../src/model/plan.js';
import { splitWeldment } from '../../../src/model/split-weldment.js';
import { factsOf } from '../../../src/planning/plan.js';
import { planText } from '../../../src/report/plan-text.js';
import { groupMetal } from '../../../src/rules/group-metal.js';
import { lyingGroup } from '../../../src/rules/sub-assemblies/split-context.js';
import { checkPlan } from '../../../src/session/check.js';
import { exportPlan } from '../../../src/session/export.js';
import { readInputs, type Sources } from '../../../src/session/inputs.js';
import { planSession } from '../../../src/session/plan.js';
import { reportPlan } from '../../../src/session/report.js';
import { liftsOf, weakGrips, withoutGrips } from '../../../src/session/sub-assemblies/lifting.js';
import type { PieceInputs } from '../../../src/session/sub-assemblies/split-plan.js';
import { planIn } from '../../support/planned.js';

const STORIES = new URL('../../stories/', import.meta.url);
const textOf = (path: string): string => readFileSync(new URL(path, STORIES), 'utf8');

/** The story of a lug whose lower seam is reached while its post lies. */
const sources: Sources = {
  weldment: { text: textOf('lower-seam-is-reached-apart/weldment.yaml'), name: 'weldment.yaml' },
  cell: { text: textOf('bench.cell.yaml'), name: 'cell.yaml' },
};
const programs = await loadLinearPrograms();
const inputs = readInputs(sources).inputs as PieceInputs;
let plan: GeometricPlan;
beforeAll(() => {
  plan = planIn(planSession(sources, { programs }));
});

describe('a plan with a sub-assembly', () => {
  it('passes every rule as the document that it is', () => {
    const judged = checkPlan({ text: canonicalText(plan), name: 'plan.json' }, sources, programs);
    expect(judged).toMatchObject({ kind: 'judged', findings: [] });
  });

  it('says for what a sub-assembly is one rigid body, its own plan does not', () => {
    const inside = /a sub-assembly keeps its shape.*one rigid body/;
    expect(plan.proof.notChecked.join()).toMatch(inside);
    expect(plan.subAssemblies![0]!.plan.proof.notChecked.join()).not.toMatch(inside);
  });

  it('is the same whatever the order of the parts in its entry', () => {
    const text = sources.weldment.text.replace('parts: [post, lug]', 'parts: [lug, post]');
    expect(text).not.toBe(sources.weldment.text);
    const other = planIn(
      planSession({ ...sources, weldment: { text, name: 'weldment.yaml' } }, { programs }),
    );
    /** But for the digest of the file. */
    const bare = (one: GeometricPlan) => ({
      ...{ ...one, weldment: '' },
      subAssemblies: one.subAssemblies?.map((group) => ({ ...group, plan: { ...group.plan, weldment: '' } })),
    });
    expect(canonicalText(bare(other))).toBe(canonicalText(bare(plan)));
  });

  it('is told as one plan after the other', () => {
    const text = planText(plan);
    const places = [
      'Together:',
      'First bracket, of lug and post:',
      'Then lug-over-a-base, with bracket as one part:',
    ];
    const found = places.map((place) => text.indexOf(place));
    expect(found).not.toContain(-1);
    expect(found).toEqual([...found].sort((a, b) => a - b));
    expect(text).toContain('bracket lies on post/-z');
  });

  it('has a page that shows the weldment and lists the sub-assembly', () => {
    const reported = reportPlan({ text: canonicalText(plan), name: 'plan.json' }, sources, {
      ...{ programs, assets: { script: '', style: '' }, judge: false, why: true, tables: true },
    });
    if (reported.kind !== 'reported') throw new Error(JSON.stringify(reported));
    expect(reported.page).toContain('The stages of bracket');
    expect(reported.page).toContain('The tacks of bracket');
  });

  it('is exported with a word that the programs of the sub-assembly are apart, which are exported by themselves', () => {
    const exported = (of: unknown) => exportPlan({ text: canonicalText(of), name: 'plan.json' }, 'checklist');
    const whole = exported(plan);
    expect(whole.kind === 'exported' && whole.warnings.map(issueLine)).toEqual([
      'plan.json: subAssemblies: warning: the programs of bracket are not in it; export each `plan` under `subAssemblies`, saved as a file of its own, too',
    ]);
    expect(whole.kind === 'exported' && whole.text.replace(/\s+/g, ' ')).toContain(
      '[ ] bracket is tacked apart first, of lug and post, by the checklist of its own plan; its tacks are cold and accepted, its parts measured to be within 0.5 mm of their places',
    );
    expect(exported(plan.subAssemblies![0]!.plan)).toMatchObject({ kind: 'exported', warnings: [] });
  });

  it('is taken by another gripper or face where its tacks would not carry it', () => {
    const { weldment, cell } = inputs;
    const group = lyingGroup(plan.subAssemblies![0]!);
    const own = plan.subAssemblies![0]!.plan;
    const split = splitWeldment(weldment, [group], new Map([['bracket', groupMetal(weldment, group, own)]]));
    const ground = { cell: cell!, programs };
    const lifts = liftsOf(ground, split, plan);
    expect(lifts).toEqual([plan.subAssemblies![0]!.lift]);
    expect(weakGrips(split, plan, lifts)).toEqual([]);
    const [weak] = weakGrips(split, plan, [{ ...lifts[0]!, reserve: 0.5 }]);
    const used = plan.stages.find(({ part }) => part === 'bracket')!.handling[0]!.grip;
    expect(weak).toMatchObject({ group: 'bracket', gripper: used.gripper, face: used.face });
    expect(weak!.refusal).toMatchObject({
      code: 'sub-assembly-gives-way',
      value: 0.5,
      limit: lifts[0]!.required,
    });
    const left = withoutGrips(split.main, [weak!], ground, inputs.settings)!;
    const grips = left.parts.find(({ id }) => id === 'bracket')!.grips!;
    expect(grips.length).toBeGreaterThan(0);
    expect(grips.some(({ gripper, face }) => gripper === used.gripper && face === used.face)).toBe(false);
    const before = factsOf(split.main, cell!, inputs.settings, programs);
    const all = before.usableGrips(before.scene.index.get('bracket')!);
    expect(grips).toHaveLength(
      all.filter(({ gripper, face }) => gripper.id !== used.gripper || face !== used.face).length,
    );
  });
});

describe('what is for weldments in one piece', () => {
  it('is refused with what to do', () => {
    const outcome = planSession(sources, { programs, trade: ['regrips', 'time'], weld: true });
    if (outcome.kind !== 'bad-input') throw new Error(outcome.kind);
    expect(outcome.issues.map(issueLine)).toMatchInlineSnapshot(`
      [
        "weldment.yaml:14: sub-assemblies: a trade between terms is for weldments in one piece only, and this file asks for sub-assemblies; write \`sub-assemblies: off\`, or leave that out",
        "weldment.yaml:14: sub-assemblies: an order for the full welds is for weldments in one piece only, and this file asks for sub-assemblies; write \`sub-assemblies: off\`, or leave that out",
      ]
    `);
  });
});
