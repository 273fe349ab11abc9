import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/io/canonical.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { checkPlan } from '../../src/session/check.js';
import { example, Planner, sourcesOf, type ExampleName } from '../support/planned.js';
import { pageOfPlan } from '../support/report-pages.js';

const LARGER: readonly ExampleName[] = ['ladder-bracket', 'machine-sub-frame'];
const plans = new Map<ExampleName, GeometricPlan>();
let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
  for (const name of LARGER) plans.set(name, planner.plan(example(name)));
}, 600_000);

const orderOf = (name: ExampleName): readonly string[] => plans.get(name)!.stages.map(({ part }) => part);

describe('the plan of a larger example', () => {
  // A session has every plan judged before it hands it out; reading one back from its text is tried on the smaller.
  it('read back from its text, passes every rule', () => {
    const name = 'ladder-bracket';
    const text = canonicalText(plans.get(name)!);
    const checked = checkPlan({ text, name: 'plan.json' }, sourcesOf(example(name)), planner.programs);
    expect(checked).toMatchObject({ kind: 'judged', findings: [] });
    expect(canonicalText((checked as { plan: GeometricPlan }).plan)).toBe(text);
  });

  it.each([
    ['ladder-bracket', 0],
    ['machine-sub-frame', 1],
  ] as const)('%s is proved the best, without a regrip and with %i tool changes', (name, changes) => {
    const { proof, objective } = plans.get(name)!;
    // What tacks in another order made of the time is not proved; before, all was.
    const { provedTerms } = proof.beforeReordering ?? proof;
    expect(provedTerms).toEqual(['regrips', 'tool-changes', 'distortion', 'time']);
    expect(proof.provedTerms.slice(0, 3)).toEqual(['regrips', 'tool-changes', 'distortion']);
    const counts = objective.filter(({ term }) => term !== 'time').map(({ value }) => value);
    expect(counts).toEqual([0, changes, 0]);
  });

  it.each([
    ['ladder-bracket', 1.3],
    // A cross member that is touched by the torch at its end, far from the pads.
    ['machine-sub-frame', 1.03],
  ] as const)('of %s has room: no reserve is below %d times what is required', (name, times) => {
    const plan = plans.get(name)!;
    for (const { reserves } of plan.stages)
      for (const { reserve, required } of reserves) expect(reserve).toBeGreaterThan(times * required);
  });
});

describe('the page of the largest example', () => {
  it('can be sent by mail: it has less than two million bytes, and is the same every time', async () => {
    const files = example('machine-sub-frame');
    const made = (): Promise<string> =>
      pageOfPlan(plans.get('machine-sub-frame')!, sourcesOf(files), planner);
    const page = await made();
    expect(Buffer.byteLength(page)).toBeLessThan(2_000_000);
    expect((await made()) === page).toBe(true);
  }, 600_000);
});

describe('what the geometry alone asks for', () => {
  const before = (order: readonly string[], earlier: string, later: string): boolean =>
    order.indexOf(earlier) < order.indexOf(later);

  it('one stringer of the ladder comes after all rungs, which touch both', () => {
    const order = orderOf('ladder-bracket');
    const last = before(order, 'stringer-far', 'stringer-near') ? 'stringer-near' : 'stringer-far';
    for (const rung of ['rung-low', 'rung-middle', 'rung-high']) expect(before(order, rung, last)).toBe(true);
  });

  it('the second rail of the frame comes after all cross members, which touch both', () => {
    const order = orderOf('machine-sub-frame');
    for (const cross of ['cross-front', 'cross-middle', 'cross-rear'])
      expect(before(order, cross, 'rail-near')).toBe(true);
  });
});
