import { countOrders } from '../../src/algorithms/permutations.js';
import { rounded } from '../../src/base/order.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import type { TackOrder } from '../../src/model/plan-tack-order.js';
import type { Replayed } from '../../src/rules/distortion-replay.js';
import { tackOrderAccounts, type TackOrderAccount } from '../../src/rules/tack-order-account.js';

const stated = (value: number | null): number | null => (value === null ? null : rounded(value, 3));

function orderOf(account: TackOrderAccount, gain: number): TackOrder | undefined {
  const counts = [{ length: account.securing }, { length: account.completing }];
  if (account.securing + account.completing < 2) return undefined;
  const predicted = stated(account.predicted);
  const habits = account.habits.map((one) => ({ ...one, predicted: stated(one.predicted) }));
  const known = account.least === undefined ? [] : [stated(account.least)];
  const all = [predicted, ...habits.map((one) => one.predicted), ...known].map((value) => value ?? Infinity);
  const best = Math.min(...all);
  const worse = best === all[0] ? 0 : all[0]! - best;
  return {
    ...{ predicted, habits, compared: countOrders(counts), all: true },
    least: best === Infinity ? null : best,
    kept: worse === 0 ? 'best' : worse < gain ? 'little-gain' : 'dearer',
  };
}

/** A plan made by hand, with what it has to say of the orders of its tacks, as if no other than the habits were better. */
export function withTackOrders(plan: GeometricPlan, inputs: Omit<Replayed, 'plan'>): GeometricPlan {
  const accounts = tackOrderAccounts({ ...inputs, plan });
  const gain = plan.settings.distortion['order-gain'];
  return {
    ...plan,
    stages: plan.stages.map((stage, i) => {
      const tackOrder = accounts && orderOf(accounts[i]!, gain);
      return tackOrder ? { ...stage, tackOrder } : stage;
    }),
  };
}
