import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { storyPlan } from '../support/story-plan.js';

let plan: GeometricPlan;

beforeAll(async () => {
  ({ plan } = storyPlan('one-tool-change', await loadLinearPrograms()));
}, 120_000);

describe('completing tacks', () => {
  /** The arcs of the completing tacks of a stage, s. */
  const arcsOf = (stage: number): readonly { readonly start: number; readonly end: number }[] => {
    const completing = plan.stages[stage - 1]!.tacks.filter(({ phase }) => phase === 'completing');
    return completing.map(({ id }) => {
      const step = plan.programs
        .flatMap(({ steps }) => steps)
        .find((one) => one.do === 'tack' && one.tack === id)!;
      return { start: step.start, end: step.end };
    });
  };
  const activity = (stage: number, what: string) =>
    plan.timeline.activities.find((one) => one.stage === stage && one.what.startsWith(what))!;

  it.each([2, 3])('of stage %i are laid while the handling robot fetches the next part', (stage) => {
    const arcs = arcsOf(stage);
    const fetch = activity(stage + 1, 'fetch');
    expect(arcs).toHaveLength(2);
    for (const { start } of arcs) expect(start).toBeGreaterThan(activity(stage, 'let go').start);
    // It is on its way before the first of them burns, and back with the part only once all are laid.
    expect(fetch.start).toBeLessThan(arcs[0]!.start);
    const bring = activity(stage + 1, 'bring');
    expect(bring.start).toBeGreaterThanOrEqual(Math.max(...arcs.map(({ end }) => end)));
  });
});
