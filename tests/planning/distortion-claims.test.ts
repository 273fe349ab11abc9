import { beforeAll, describe, expect, it } from 'vitest';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import { countedAgain } from '../../src/planning/document.js';
import { claimText } from '../../src/report/claim-text.js';
import { planSession } from '../../src/session/plan.js';
import { example, exampleWith, Planner, planIn, sourcesOf, type Files } from '../support/planned.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

/** Two cheeks with the tolerance between them: little to plan, something to distort. */
function cheeks(): Files {
  const files = exampleWith('roller-stand', 'base', 'cheek-left', 'cheek-right');
  const { tolerances = [] } = example('roller-stand').weldment;
  return { ...files, weldment: { ...files.weldment, tolerances } };
}

function planned(settings: string) {
  const sources = { ...sourcesOf(cheeks()), settings: { name: 'settings.yaml', text: settings } };
  return planIn(planSession(sources, { programs: planner.programs, steps: 2000 }));
}

const term = (plan: ReturnType<typeof planned>, wanted: ObjectiveTerm) =>
  plan.objective.find((entry) => entry.term === wanted);

describe('distortion in the objective', () => {
  it('is proved where every limit is kept', () => {
    const plan = planned('{}');
    expect(term(plan, 'distortion')).toEqual({ term: 'distortion', value: 0, bound: 0 });
    expect(plan.proof.provedTerms).toContain('distortion');
    expect(claimText(plan)).toContain('no distortion beyond its limits');
  });

  it('is not proved above 0 while orders are left, and nothing behind it either', () => {
    const plan = planned('distortion: { limit-share: 0.001 }');
    const { value, bound } = term(plan, 'distortion')!;
    expect(value).toBeGreaterThan(0);
    if (plan.proof.provedTerms.includes('distortion')) expect(bound).toBe(value);
    else {
      expect(bound).toBe(0);
      expect(plan.proof.provedTerms).toEqual(['regrips', 'tool-changes']);
      expect(claimText(plan)).toMatch(
        /Distortion: best of \d+ complete orders?, with no bound\. Time: no claim\./,
      );
    }
  });

  it('is proved no more, and no term behind it, where a plan counts another tenth than its search', () => {
    const plan = planned('{}');
    const [feature] = plan.distortion.features;
    const off = { ...feature!, deviation: feature!.limit + 0.05 };
    const other = countedAgain({ ...plan, distortion: { ...plan.distortion, features: [off] } });
    expect(other.objective.slice(2)).toEqual([
      { term: 'distortion', value: 1, bound: 0 },
      { ...term(plan, 'time')!, bound: 0 },
    ]);
    expect(other.proof).toMatchObject({ outcome: 'feasible', provedTerms: ['regrips', 'tool-changes'] });
    const objective = other.objective.map((entry) =>
      entry.term === 'distortion' ? { ...entry, value: 2, bound: 2 } : entry,
    );
    expect(term(countedAgain({ ...other, objective }), 'distortion')).toMatchObject({ value: 1, bound: 0 });
  });

  it('is only reported where the objective goes without it', () => {
    const plan = planned('objective: [regrips, tool-changes, time]');
    expect(plan.objective.map((entry) => entry.term)).toEqual(['regrips', 'tool-changes', 'time']);
    expect(plan.distortion.features).toHaveLength(1);
  });
});
