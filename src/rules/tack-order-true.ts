import { countOrders } from '../algorithms/permutations.js';
import type { Finding } from '../model/finding.js';
import type { TackOrder } from '../model/plan-tack-order.js';
import { TACK_HABITS } from '../model/tack-habit.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';
import { tackOrderAccounts, type TackOrderAccount } from './tack-order-account.js';

const ID = 'tack-order-true';

/** Figures are rounded to thousandths; two of them are compared. */
const ROUNDING = 0.0021;

type Predicted = TackOrder['predicted'];

const agree = (stated: Predicted, found: Predicted): boolean =>
  stated === null || found === null ? stated === found : Math.abs(stated - found) <= ROUNDING;

const told = (predicted: Predicted): string =>
  predicted === null ? 'a seam that gapes too wide' : `${shown(predicted)} mm`;

/** Where an order is null it is worse than every other. */
const asNumber = (predicted: Predicted): number => predicted ?? Infinity;

/** The numbers that differ from those of a replay. */
function numberFindings(where: string, stated: TackOrder, found: TackOrderAccount): Finding[] {
  const wrong = (at: string, what: string, value: Predicted, replayed: Predicted): Finding =>
    breach(
      ID,
      `${where}.${at}`,
      `${what} is stated to leave ${told(value)}; the replay gives ${told(replayed)}`,
    );
  const ours = agree(stated.predicted, found.predicted)
    ? []
    : [wrong('predicted', 'the order of the tacks', stated.predicted, found.predicted)];
  if (stated.habits.map(({ habit }) => habit).join() !== TACK_HABITS.join())
    return [...ours, breach(ID, `${where}.habits`, `the habits are not ${TACK_HABITS.join(', ')}`)];
  const others = stated.habits.flatMap(({ habit, predicted }, i) => {
    const replayed = found.habits[i]!.predicted;
    return agree(predicted, replayed) ? [] : [wrong(`habits[${i}]`, habit, predicted, replayed)];
  });
  const best = found.least;
  const least =
    !stated.all || best === undefined || agree(stated.least, best)
      ? []
      : [wrong('least', 'the best of all orders', stated.least, best)];
  return [...ours, ...others, ...least];
}

/** Whether what is said of the best order fits the rest. */
function claimFindings(where: string, stated: TackOrder, orders: number, gain: number): Finding[] {
  const { predicted, habits, least, compared, all, kept } = stated;
  const findings: Finding[] = [];
  if (all ? compared !== orders : compared >= orders && orders > 1)
    findings.push(
      breach(
        ID,
        `${where}.compared`,
        `${compared} orders are said to be ${all ? 'all' : 'not all'}; there are ${orders}`,
        { value: compared, limit: orders },
      ),
    );
  const best = Math.min(asNumber(predicted), ...habits.map((one) => asNumber(one.predicted)));
  if (!(asNumber(least) <= best + ROUNDING))
    findings.push(
      breach(
        ID,
        `${where}.least`,
        `the best order is said to leave ${told(least)}; one here leaves ${shown(best)} mm`,
      ),
    );
  const gained = predicted === least ? 0 : asNumber(predicted) - asNumber(least);
  const fits = { best: gained <= 0, 'little-gain': gained > 0 && gained < gain + ROUNDING };
  const asSaid =
    kept === 'budget' || (kept === 'best' || kept === 'little-gain' ? fits[kept] : gained > gain - ROUNDING);
  if (!asSaid)
    findings.push(
      breach(
        ID,
        `${where}.kept`,
        `the order is ${shown(gained)} mm worse than the best one; that is not ${kept}`,
        {
          value: gained,
          limit: gain,
        },
      ),
    );
  return findings;
}

function stageFindings(
  { settings }: RuleContext,
  { stage: { tackOrder }, where }: StageView,
  found: TackOrderAccount,
): Finding[] {
  const at = `${where}.tackOrder`;
  const { securing, completing } = found;
  const tacks = securing + completing;
  if (tacks < 2 || tackOrder === undefined)
    return tacks < 2 === (tackOrder === undefined)
      ? []
      : [breach(ID, at, `${tackOrder ? 'orders' : 'no orders'} are compared for ${tacks} tacks`)];
  const orders = countOrders([{ length: securing }, { length: completing }]);
  return [
    ...numberFindings(at, tackOrder, found),
    ...claimFindings(at, tackOrder, orders, settings.distortion['order-gain']),
  ];
}

const NO_TACKS: TackOrderAccount = { securing: 0, completing: 0, predicted: 0, habits: [] };

function judge(context: RuleContext): Finding[] {
  const accounts = tackOrderAccounts(context);
  if (accounts === undefined) return [];
  return stageViews(context).flatMap((view, i) => {
    // The tacks that a person lays are given in the usual order, with which nothing is compared.
    const account = view.stage.manual ? NO_TACKS : accounts[i]!;
    return stageFindings(context, view, account);
  });
}

/** What the plan says of the orders of its tacks is what a replay of them comes to. */
export const tackOrderTrue: Rule = {
  id: ID,
  forbids:
    'predictions for the order of the tacks, for orders by habit, or for the best of a few, that differ from those of a replay, and claims that do not follow from them',
  why: 'whoever doubts the order of the tacks decides by these numbers',
  judge,
};
