import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { checkPlan } from '../../src/session/check.js';
import type { Sources } from '../../src/session/inputs.js';
import { planSession } from '../../src/session/plan.js';
import { canonicalText } from '../../src/io/canonical.js';

const programs = await loadLinearPrograms();
const text = (path: string): string => readFileSync(new URL(`../stories/${path}`, import.meta.url), 'utf8');
const URDF = text('arm-by-urdf/story-arm.urdf');

const sources = (story: string, urdf: string): Sources => ({
  weldment: { text: text('cube-needs-no-hold/weldment.yaml'), name: 'weldment.yaml' },
  cell: { text: text(`${story}/cell.yaml`), name: 'cell.yaml', beside: { 'story-arm.urdf': urdf } },
  settings: { text: text('cube-needs-no-hold/settings.yaml'), name: 'settings.yaml' },
});

function planned(given: Sources) {
  const outcome = planSession(given, { programs });
  if (outcome.kind !== 'planned' || outcome.plan.kind !== 'geometric') throw new Error(outcome.kind);
  return outcome.plan;
}

describe('an arm given by a URDF file', () => {
  it('plans as the same arm given by its lengths, to the last digit, and the plan is for that very file', () => {
    const byLengths = planned(sources('cube-needs-no-hold', ''));
    const given = sources('arm-by-urdf', URDF);
    const byUrdf = planned(given);
    expect(byUrdf.cell.digest).not.toBe(byLengths.cell.digest);
    expect({ ...byUrdf, cell: byLengths.cell }).toEqual(byLengths);

    const plan = { text: canonicalText(byUrdf), name: 'plan.json' };
    expect(checkPlan(plan, given, programs)).toMatchObject({ kind: 'judged', findings: [] });
    const touched = checkPlan(plan, sources('arm-by-urdf', `${URDF}<!-- touched -->\n`), programs);
    expect(touched.kind === 'judged' && touched.findings.map(({ rule }) => rule)).toEqual(['inputs-true']);
  });
});
