import type { GeometricPlan } from '../../../src/model/plan.js';
import type { Weldment } from '../../../src/model/weldment.js';
import type { WholePlan } from '../../../src/rules/sub-assemblies/split-context.js';
import { inputsOf, story, type Files, type Planner } from '../../support/planned.js';

/** A cap on a riser on a base; riser and cap are tacked apart first. Our own invention. */
export const stacked = (): Files => ({
  cell: story('cube-needs-no-hold').cell,
  weldment: {
    ...{ weldment: 'stacked', units: 'mm kg N s deg' },
    parts: {
      base: { plate: { length: 300, width: 200, thickness: 12 }, at: [0, 0, 6] },
      riser: { block: { length: 120, width: 80, height: 40 }, at: [0, 0, 32] },
      cap: { block: { length: 80, width: 60, height: 30 }, at: [0, 0, 67] },
    },
    joints: [
      { between: ['base', 'riser'], leg: 5 },
      { between: ['riser', 'cap'], leg: 5 },
    ],
    'sub-assemblies': [{ name: 'stand', parts: ['riser', 'cap'] }],
  },
});

/** The plan of that weldment with all that judging it needs. */
export function stackedPlan(planner: Planner): WholePlan {
  const files = stacked();
  const { weldment, cell } = inputsOf(files);
  const plan: GeometricPlan = planner.plan(files);
  return { weldment: weldment as Weldment, cell: cell!, plan, programs: planner.programs };
}
