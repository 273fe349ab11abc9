import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { secondsFromNow } from '../../../src/base/seconds-left.js';
import type { GeometricPlan } from '../../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../../src/model/settings.js';
import type { LyingSubAssembly } from '../../../src/model/sub-assembly.js';
import { factsOf } from '../../../src/planning/plan.js';
import { together } from '../../../src/rules/whole-totals.js';
import { autoSplit, MOST_TRIED, type InOnePiece } from '../../../src/session/sub-assemblies/auto-split.js';
import type { PieceInputs, SplitOutcome } from '../../../src/session/sub-assemblies/split-plan.js';
import { example, inputsOf } from '../../support/planned.js';

const programs = await loadLinearPrograms();
const inputs = inputsOf(example('roller-stand')) as PieceInputs;
const facts = factsOf(inputs.weldment, inputs.cell!, DEFAULT_SETTINGS, programs);
const parts = inputs.weldment.parts.map(({ id }) => id);

/** A plan of which only what counts here is there; the parts named are regripped once. */
function planWith(regrips: number, regripped: readonly string[] = []): GeometricPlan {
  const order = ['base', ...parts.filter((id) => id !== 'base')];
  return {
    kind: 'geometric',
    objective: [{ term: 'regrips', value: regrips, bound: 0 }],
    stages: order.map((part, i) => ({
      ...{ number: i + 1, part, robot: 'handler' },
      handling: regripped.includes(part)
        ? [{ grip: { gripper: 'g' } }, { grip: { gripper: 'g' } }]
        : [{ grip: { gripper: 'g' } }],
    })),
    programs: [],
    distortion: { features: [] },
    timeline: { activities: [] },
  } as unknown as GeometricPlan;
}

const planned = (plan: GeometricPlan): InOnePiece => ({
  ...{ kind: 'planned', plan, contacts: 0, warnings: [] },
});

/** Splits of a made-up planner: what they cost in regrips, or no plan; and what it was asked. */
function run(
  inOnePiece: InOnePiece,
  costOf: (groups: readonly LyingSubAssembly[]) => number | undefined,
  more: { readonly isStopped?: () => boolean; readonly seconds?: number } = {},
) {
  const asked: string[] = [];
  const planner = {
    plan: (groups: readonly LyingSubAssembly[]): SplitOutcome => {
      asked.push(groups.map((group) => [...group.parts].sort().join('+')).join(' '));
      const cost = costOf(groups);
      if (cost === undefined)
        return {
          ...{ kind: 'unplanned', of: groups[0]!.name },
          outcome: {
            ...{ kind: 'impossible', scope: 'any', needed: 1, also: [], mayBeMore: false, warnings: [] },
            reasons: [{ code: 'payload', subjects: [groups[0]!.name], value: 9, limit: 5 }],
          },
        };
      const plan = planWith(cost);
      return { kind: 'planned', plan, totals: together([plan]) };
    },
  };
  const { isStopped = () => false, seconds } = more;
  const time = secondsFromNow(seconds, () => 0);
  return { asked, ...autoSplit({ inputs, facts, planner, inOnePiece, time, isStopped }) };
}

const impossible = (...stuck: readonly string[]): InOnePiece => ({
  ...{ kind: 'impossible', scope: 'any', needed: 1, also: [], mayBeMore: false, warnings: [] },
  reasons: stuck.map((part) => ({ code: 'no-handling', subjects: [part] })),
});

const regripsOf = (plan: GeometricPlan | undefined): number | undefined => plan?.objective[0]!.value;

describe('the search for sub-assemblies', () => {
  it('takes the split that costs less, and tells what it compared', () => {
    const one = planWith(2, ['saddle-right', 'gusset']);
    const { best, search } = run(planned(one), (groups) =>
      groups.some((group) => group.parts.includes('gusset')) ? 1 : 3,
    );
    expect(regripsOf(best?.plan)).toBe(1);
    expect(
      search.tried.some(({ outcome, objective }) => outcome === 'planned' && objective?.[0]!.value === 1),
    ).toBe(true);
  });

  it('keeps the plan in one piece where no split is better', () => {
    const one = planWith(1, ['gusset']);
    const { best, asked } = run(planned(one), () => 1);
    expect(best?.plan).toBe(one);
    expect(asked.length).toBeGreaterThan(0);
  });

  it('asks for nothing where nothing is to be gained', () => {
    const one = planWith(0);
    const { best, search, asked } = run(planned(one), () => 0);
    expect(asked).toEqual([]);
    expect(best?.plan).toBe(one);
    expect(search).toMatchObject({ promising: 0, tried: [] });
    expect(search.liftable).toBeGreaterThan(0);
    expect(search).not.toHaveProperty('cutBy');
  });

  it('adds a further group to one that was taken, where they share no part', () => {
    const one = planWith(2, ['saddle-left', 'saddle-right']);
    const { best, asked } = run(planned(one), (groups) => 2 - groups.length);
    expect(regripsOf(best?.plan)).toBe(0);
    const last = asked.find((text) => text.includes(' '))!.split(/[ +]/);
    expect(new Set(last).size).toBe(last.length);
  });

  it('tries no more than it says, and says so', () => {
    const one = planWith(2, ['web', 'gusset']);
    const { asked, search } = run(planned(one), () => 5);
    expect(asked).toHaveLength(MOST_TRIED);
    expect(search).toMatchObject({ most: MOST_TRIED, cutBy: 'tries' });
    expect(search.tried).toHaveLength(MOST_TRIED);
  });

  it('begins with groups of stuck parts where there is no plan in one piece, and takes the first that has one', () => {
    let tries = 0;
    const { best, asked, search } = run(impossible('web'), () => {
      tries += 1;
      return tries < 3 ? undefined : 4;
    });
    expect(asked.every((text) => text.includes('web'))).toBe(true);
    const reason = { code: 'payload', value: 9, limit: 5 };
    expect(search.tried[0]).toMatchObject({ outcome: 'impossible', reason });
    expect(search.tried[2]).toMatchObject({ outcome: 'planned' });
    expect(regripsOf(best?.plan)).toBe(4);
  });

  it('tries two groups at once where no one gives a plan', () => {
    const { best, asked } = run(impossible('saddle-left', 'saddle-right'), (groups) =>
      groups.length === 2 ? 0 : undefined,
    );
    expect(regripsOf(best?.plan)).toBe(0);
    expect(asked.at(-1)).toContain(' ');
    expect(asked.length).toBeLessThanOrEqual(MOST_TRIED);
  });

  it('ends when it is stopped, or its seconds are over', () => {
    const one = planWith(1, ['gusset']);
    expect(run(planned(one), () => 0, { isStopped: () => true }).search).toMatchObject({
      ...{ tried: [], cutBy: 'stop' },
    });
    expect(run(planned(one), () => 0, { seconds: 0 }).search).toMatchObject({ tried: [], cutBy: 'seconds' });
  });
});
