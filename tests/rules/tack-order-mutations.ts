import type { GeometricPlan } from '../../src/model/plan.js';
import type { TackOrder } from '../../src/model/plan-tack-order.js';
import { inPlan, mutation, NOT_THERE, type Mutation } from './mutation.js';

/** Changes what a plan says of the order of the tacks in the first stage that has several. */
const inFirst = (change: (order: TackOrder) => void): Mutation['mutate'] =>
  inPlan((plan: GeometricPlan) => {
    const order = plan.stages.find(({ tackOrder }) => tackOrder !== undefined)?.tackOrder;
    if (order === undefined) return NOT_THERE;
    change(order);
    return undefined;
  });

export const TACK_ORDERS: readonly Mutation[] = [
  mutation(
    'tack-order-true',
    'an order that is said to leave less',
    inFirst((order) => {
      order.predicted = (order.predicted ?? 1) / 2;
    }),
  ),
  mutation(
    'tack-order-true',
    'a habit that is said to leave more',
    inFirst(({ habits }) => {
      habits.at(-1)!.predicted = (habits.at(-1)!.predicted ?? 0) + 0.5;
    }),
  ),
  mutation(
    'tack-order-true',
    'a habit that is left out',
    inFirst(({ habits }) => {
      habits.pop();
    }),
  ),
  mutation(
    'tack-order-true',
    'a best order that is said to leave more than another',
    inFirst((order) => {
      order.least = null;
      order.kept = 'best';
    }),
  ),
  mutation(
    'tack-order-true',
    'a best of few orders that is said to leave less than any does',
    inPlan((plan) => {
      const few = plan.stages.find(({ tackOrder }) => tackOrder !== undefined && tackOrder.compared <= 6);
      const order = few?.tackOrder;
      if (!order?.least || order.least < 0.01) return NOT_THERE;
      order.least /= 2;
      const gained = (order.predicted ?? Infinity) - order.least;
      if (order.kept === 'best') order.kept = 'little-gain';
      if (order.kept === 'little-gain' && gained >= plan.settings.distortion['order-gain'])
        order.kept = 'refused';
      return undefined;
    }),
  ),
  mutation(
    'tack-order-true',
    'all orders compared, which are more',
    inFirst((order) => {
      order.all = true;
      order.compared += 1;
    }),
  ),
  mutation(
    'tack-order-true',
    'a better order that is said to be refused, though there is none',
    inFirst((order) => {
      order.least = order.predicted;
      order.kept = 'refused';
    }),
  ),
  mutation(
    'tack-order-true',
    'no orders compared where there are several tacks',
    inPlan((plan) => {
      const stage = plan.stages.find(({ tackOrder }) => tackOrder !== undefined);
      if (stage === undefined) return NOT_THERE;
      delete stage.tackOrder;
      return undefined;
    }),
  ),
];
