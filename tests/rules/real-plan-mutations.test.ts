import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/io/canonical.js';
import { readPlan } from '../../src/io/read-plan.js';
import type { Finding } from '../../src/model/finding.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { RULES } from '../../src/rules/check.js';
import { checkPlan } from '../../src/session/check.js';
import { example, inputsOf, Planner, sourcesOf, type ExampleName } from '../support/planned.js';
import type { Checked } from './mutation.js';
import { MUTATIONS } from './mutations.js';

const EXAMPLES: readonly ExampleName[] = ['roller-stand', 'box-beam'];

let planner: Planner;
const texts = new Map<ExampleName, string>();

beforeAll(async () => {
  planner = await Planner.load();
  for (const name of EXAMPLES) texts.set(name, canonicalText(planner.plan(example(name))));
}, 120_000);

/** The plan of an example as it is read from its text, with what it was planned for. */
function checkedOf(name: ExampleName): Checked {
  const { weldment, cell } = inputsOf(example(name));
  if (weldment.kind !== 'geometric' || !cell) throw new Error(`${name} has no shapes`);
  return { weldment, cell, plan: readPlan(texts.get(name)!, 'plan.json').value as GeometricPlan };
}

/** Rules that solve equilibria take most of the time; this is what they read of a plan. */
const STATICS: readonly string[] = ['reserves-hold', 'reserves-true'];
const staticsOf = ({ settings, joints, stages }: GeometricPlan): string =>
  JSON.stringify([
    [settings, joints],
    stages.map(({ part, held, proofPull, approach, tacks, reserves, handling }) => [
      part,
      held,
      proofPull,
      approach,
      tacks,
      reserves,
      handling.at(-1)?.grip,
    ]),
  ]);

/** Findings of every rule; those of statics are not asked again where nothing that they read has changed. */
function findingsOn({ weldment, cell, plan }: Checked, sound: Checked): Finding[] {
  const { settings } = plan;
  const context = { weldment, cell, plan, settings, programs: planner.programs };
  const whole = { ...context, scene: buildScene(weldment, cell, settings) };
  const unchanged =
    weldment === sound.weldment && cell === sound.cell && staticsOf(plan) === staticsOf(sound.plan);
  return RULES.filter(({ id }) => !unchanged || !STATICS.includes(id)).flatMap((rule) => rule.judge(whole));
}

describe.each(EXAMPLES)('the plan of %s', (name) => {
  it('passes every rule when it is read from its text', () => {
    const checked = checkPlan(
      { text: texts.get(name)!, name: 'plan.json' },
      sourcesOf(example(name)),
      planner.programs,
    );
    expect(checked).toMatchObject({ kind: 'judged', findings: [] });
  });

  it.for(MUTATIONS)('$rule: $name', ({ rule, also, mutate }, { skip }) => {
    const sound = checkedOf(name);
    const mutated = mutate(sound);
    if (!mutated) return skip('the plan has nothing of the kind');
    const rules = new Set(findingsOn(mutated, sound).map((finding) => finding.rule));
    expect(rules).toContain(rule);
    for (const other of rules) expect([rule, ...also]).toContain(other);
  });
});

describe('the mutations', () => {
  it('apply to one plan or the other for every rule', () => {
    const checked = EXAMPLES.map(checkedOf);
    const applied = MUTATIONS.filter(({ mutate }) => checked.some((one) => mutate(one) !== undefined));
    expect(new Set(applied.map(({ rule }) => rule))).toEqual(new Set(RULES.map(({ id }) => id)));
  });
});
