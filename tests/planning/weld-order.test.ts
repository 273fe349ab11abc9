import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { canonicalText } from '../../src/io/canonical.js';
import { readPlan } from '../../src/io/read-plan.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { withWeld, weldOrder } from '../../src/planning/weld-order.js';
import { weldText } from '../../src/report/weld-text.js';
import { replayedStages } from '../../src/rules/distortion-replay.js';
import { freeShrinkage } from '../../src/rules/distortion-tacks.js';
import type { RuleContext } from '../../src/rules/rule.js';
import { tackedUp, weldAccount, weldSeams, weldSegments, Welding } from '../../src/rules/weld-run.js';
import { weldTrue } from '../../src/rules/weld-true.js';
import { readInputs, type Sources } from '../../src/session/inputs.js';
import { benchSources, tackedPlan, type TackChoice } from '../support/tacked-plan.js';

const LENGTH = 400;

/** Our own invention: sole, web and lid of an I-beam with four fillets. */
const beam = (extra: Readonly<Record<string, unknown>> = {}): Sources =>
  benchSources({
    weldment: 'i-beam',
    parts: {
      sole: { plate: { length: LENGTH, width: 120, thickness: 10 }, at: [0, 0, 5] },
      web: { plate: { length: LENGTH, width: 150, thickness: 8 }, at: [0, 0, 85], turn: [90, 0, 0] },
      lid: { plate: { length: LENGTH, width: 120, thickness: 10 }, at: [0, 0, 165] },
    },
    joints: [
      { between: ['sole', 'web'], sides: 'both', leg: 5 },
      { between: ['web', 'lid'], sides: 'both', leg: 5 },
    ],
    first: 'sole',
    ...extra,
  });

/** Tacks at both ends of a seam; with a leg of next to nothing they hold next to nothing. */
const ends = (seam: string, leg = 5): TackChoice[] =>
  [10, LENGTH - 40].map((start) => ({ seam, start, leg }));

let programs: LinearPrograms;
beforeAll(async () => {
  programs = await loadLinearPrograms();
});

/** Enough for all orders, and not for all of them in every way. */
const SOME = { tries: 1500 };

function contextOf(sources: Sources, leg?: number, weld: Record<string, number> = SOME): RuleContext {
  const plan = tackedPlan(sources, programs, [
    ['sole'],
    ['web', ...ends('J1.1', leg), ...ends('J1.2', leg)],
    ['lid', ...ends('J2.1', leg), ...ends('J2.2', leg)],
  ]);
  Object.assign(plan.settings.weld, weld);
  const { weldment, cell } = readInputs(sources).inputs!;
  if (weldment.kind !== 'geometric') throw new Error('no shapes');
  const scene = buildScene(weldment, cell!, plan.settings);
  return { weldment, plan, cell: cell!, settings: plan.settings, scene, programs };
}

/** Some seams welded, each forwards from end to end. */
function welded(context: RuleContext, order: readonly string[]): Welding {
  const stages = replayedStages(context)!;
  const welding = new Welding(context.scene, context.settings, tackedUp(context, stages));
  const seams = weldSeams(context, stages);
  for (const id of order) {
    const seam = seams.find((one) => one.id === id)!;
    welding.lay(seam, { from: 0, to: seam.length });
  }
  return welding;
}

const valueOf = (context: RuleContext, order: readonly string[]): number =>
  weldAccount(
    context.scene,
    welded(context, order).run,
    replayedStages(context)!.map(({ part }) => part),
  ).value;

const permutations = (items: readonly string[]): string[][] =>
  items.length === 0
    ? [[]]
    : items.flatMap((item) =>
        permutations(items.filter((one) => one !== item)).map((rest) => [item, ...rest]),
      );

describe('welding an I-beam whose tacks hold next to nothing', () => {
  let context: RuleContext;
  beforeAll(() => {
    context = contextOf(beam(), 0.2);
  });

  const DEGREES = 180 / Math.PI;

  /** Turn of a part about the length of the beam, which lies across the cell, degrees. */
  const lean = (welding: Welding, id: string): number =>
    welding.run.motion(context.scene.index.get(id)!).turn[1] * DEGREES;

  it.each([50, 100, 400])(
    'turns the web by the published angle of one seam, in segments of %d mm',
    (segment) => {
      const other = contextOf(beam(), 0.2, { segment });
      const seam = weldSeams(other, replayedStages(other)!)[0]!;
      const [piece] = weldSegments(other.scene, other.settings, seam, { from: 0, to: seam.length });
      const published = freeShrinkage(other.scene, piece!, other.settings, 'full').angular * DEGREES;
      const turned = Math.abs(lean(welded(other, [seam.id]), 'web'));
      expect(turned / published).toBeGreaterThan(0.9);
      expect(turned / published).toBeLessThan(1.1);
    },
  );

  it('pulls back with the second seam, but not all the way: the side welded first leads', () => {
    const [one, both] = [['J1.1'], ['J1.1', 'J1.2']].map((order) => lean(welded(context, order), 'web'));
    expect(Math.abs(both!)).toBeGreaterThan(0.2 * Math.abs(one!));
    expect(Math.abs(both!)).toBeLessThan(0.8 * Math.abs(one!));
    expect(Math.sign(both!)).toBe(Math.sign(one!));
  });

  it('keeps the lid level where opposed seams lead at sole and lid, and not where one side is welded first', () => {
    const balanced = Math.abs(lean(welded(context, ['J1.1', 'J2.2', 'J1.2', 'J2.1']), 'lid'));
    const oneSided = Math.abs(lean(welded(context, ['J1.1', 'J2.1', 'J1.2', 'J2.2']), 'lid'));
    const bySeam = Math.abs(lean(welded(context, ['J1.1', 'J1.2', 'J2.1', 'J2.2']), 'lid'));
    expect(balanced).toBeLessThan(0.1);
    expect(oneSided).toBeGreaterThan(1);
    expect(bySeam).toBeGreaterThan(1);
  });

  it('is given such a balanced order, better than seam after seam', () => {
    const { runs, value, habits } = weldOrder(context)!;
    const leading = ['J1', 'J2'].map((joint) => runs.find((run) => run.joint === joint)!.seam.at(-1));
    expect(new Set(leading).size).toBe(2);
    expect(value).toBeLessThan(habits.file);
  });
});

describe('the order of the full welds', () => {
  let context: RuleContext;
  let plan: GeometricPlan;
  beforeAll(() => {
    context = contextOf(beam());
    plan = withWeld(context.plan, context);
  });

  it('is at least as good as every order of whole seams, and as the habits', () => {
    const { value, habits, worst, search } = plan.weld!;
    expect(search.method).toBe('every-order');
    const values = permutations(['J1.1', 'J1.2', 'J2.1', 'J2.2']).map((order) => valueOf(context, order));
    expect(value).toBeLessThanOrEqual(Math.min(...values) + 1e-3);
    for (const other of Object.values(habits)) expect(value).toBeLessThanOrEqual(other);
    expect(habits.file).toBe(valueOf(context, ['J1.1', 'J1.2', 'J2.1', 'J2.2']));
    expect(worst.value).toBeGreaterThanOrEqual(Math.max(...values) - 1e-3);
    expect(value).toBeLessThan(0.6 * worst.value);
  });

  it('is the same when it is asked for again', () => {
    expect(canonicalText(weldOrder(context))).toBe(canonicalText(plan.weld));
  });

  it('tries every way as well where the budget is large, and exchanges where it is small', () => {
    const all = weldOrder(contextOf(beam(), 5, { segment: 200, step: 200, tries: 2000 }))!;
    expect(all.search).toEqual({ method: 'every-order-and-way', tried: 24 * 2 ** 4 + 3 });
    const few = weldOrder(contextOf(beam(), 5, { tries: 60 }))!;
    expect(few.search.method).toBe('exchange');
    for (const other of Object.values(few.habits)) expect(few.value).toBeLessThanOrEqual(other);
    expect(all.value).toBeLessThanOrEqual(all.habits.file);
  });

  it('is measured by tolerances where the weldment has some', () => {
    const tolerances = [{ name: 'height', from: 'sole', to: 'lid', 'iso-13920': 'A' }];
    const judged = contextOf(beam({ tolerances }));
    const weld = weldOrder(judged)!;
    const [feature] = weld.features;
    expect(weld.measure).toBe('tolerance-share');
    expect(feature).toMatchObject({ name: 'height', tolerance: 1 });
    expect(weld.value).toBeCloseTo(feature!.deviation / feature!.tolerance, 2);
  });

  it('is read again as it is written, and passes its rule', () => {
    const { value, issues } = readPlan(canonicalText(plan), 'p.json');
    expect(issues).toEqual([]);
    expect(weldTrue.judge({ ...context, plan: value as GeometricPlan })).toEqual([]);
  });

  it('is told with what other orders come to', () => {
    const lines = weldText(plan).join(' ').replace(/\s+/g, ' ');
    for (const part of [
      'screening estimate',
      'the order of the file',
      'in back-steps',
      'the worst met',
      'backwards',
    ])
      expect(lines).toContain(part);
    expect(weldText(context.plan)).toEqual([]);
  });

  it.each<[string, (weld: NonNullable<GeometricPlan['weld']>) => void, RegExp]>([
    ['a seam left out', (weld) => weld.runs.splice(0, 1), /is not welded/],
    ['a seam welded twice', (weld) => weld.runs.push(weld.runs[0]!), /is welded twice/],
    [
      'a run beyond the end',
      (weld) => (weld.worst.runs[0]!.to += 20),
      /a run goes on to 420 mm|is not welded/,
    ],
    ['a seam that nobody has', (weld) => (weld.runs[0]!.seam = 'J9.1'), /is no seam/],
    ['a flattered value', (weld) => (weld.value /= 2), /is stated; the replay gives/],
    ['a habit made worse', (weld) => (weld.habits.skip += 1), /is stated; the replay gives/],
    [
      'a worst order better than a habit',
      (weld) => (weld.worst = { ...weld, value: weld.value }),
      /one here comes to/,
    ],
    ['a part that does not move', (weld) => weld.moved.pop(), /is not what the replay gives/],
  ])('is not true with %s', (_, change, message) => {
    const spoiled = structuredClone(plan);
    change(spoiled.weld!);
    const findings = weldTrue.judge({ ...context, plan: spoiled });
    expect(findings.map((one) => one.message).join('\n')).toMatch(message);
  });

  it('is not true with another order in place of the best one, whatever figures are put beside it', () => {
    const { runs } = plan.weld!.worst;
    const stages = replayedStages(context)!;
    const seams = weldSeams(context, stages);
    const welding = new Welding(context.scene, context.settings, tackedUp(context, stages));
    for (const run of runs)
      welding.lay(
        seams.find(({ id }) => id === run.seam)!,
        run,
      );
    const account = weldAccount(
      context.scene,
      welding.run,
      stages.map(({ part }) => part),
    );
    const weld = { ...plan.weld!, ...account, runs };
    expect(weldTrue.judge({ ...context, plan: { ...plan, weld } })).toMatchObject([
      { where: 'weld.runs', value: weld.value },
    ]);
  });
});
