import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as tackwright from '../src/index.js';

const source = (path: string): tackwright.Source => ({
  name: path,
  text: readFileSync(new URL(`../${path}`, import.meta.url), 'utf8'),
});

describe('the library', () => {
  it('plans, states and checks without touching a file', async () => {
    const programs = await tackwright.loadLinearPrograms();
    const weldment = source('examples/ring-of-six/ring-of-six.weldment.yaml');
    const outcome = tackwright.plan({ weldment }, { programs });
    if (outcome.kind !== 'planned') throw new Error(outcome.kind);
    const text = tackwright.canonicalText(outcome.plan);
    const checked = tackwright.check({ name: 'ring.plan.json', text }, { weldment }, programs);
    expect(checked).toMatchObject({ kind: 'judged', findings: [] });
    expect(tackwright.planText(outcome.plan)).toContain('Optimal: 0 regrips, 1 tool change');
  });

  it('answers bad input with issues, as values', async () => {
    const programs = await tackwright.loadLinearPrograms();
    const outcome = tackwright.plan({ weldment: { name: 'x', text: 'parts: [' } }, { programs });
    if (outcome.kind !== 'bad-input') throw new Error(outcome.kind);
    expect(outcome.issues.map(tackwright.issueLine).join('\n')).toMatch(/^x:1: /);
  });
});
