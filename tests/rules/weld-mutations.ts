import type { PlanWeld } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { weldOrder } from '../../src/planning/weld-order.js';
import { mutation, type Checked, type Mutation } from './mutation.js';

/** The plan with an order for its full welds, found in a hurry, and something wrong in it. */
const inWeld =
  (change: (weld: PlanWeld) => unknown): Mutation['mutate'] =>
  ({ weldment, cell, plan: given }: Checked) => {
    const settings = { ...given.settings, weld: { ...given.settings.weld, tries: 1 } };
    const plan = { ...given, settings };
    const weld = weldOrder({ plan, cell, settings, scene: buildScene(weldment, cell, settings) });
    if (weld === undefined) return undefined;
    change(weld);
    return { weldment, cell, plan: { ...plan, weld } };
  };

export const WELDS: readonly Mutation[] = [
  mutation(
    'weld-true',
    'an order of the full welds that leaves out a seam',
    inWeld(({ runs }) => runs.pop()),
  ),
  mutation(
    'weld-true',
    'an order of the full welds that is said to move parts less than it does',
    inWeld((weld) => (weld.value /= 2)),
  ),
];
