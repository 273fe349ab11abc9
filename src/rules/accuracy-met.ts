import type { Finding } from '../model/finding.js';
import { fits } from '../model/fit-up.js';
import type { PlanAccuracy, Remedy } from '../model/plan.js';
import { judgedAccuracy, type JudgedAccuracy } from './judged-accuracy.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { handlerNamed, stageViews, type StageView } from './stage-views.js';

const ID = 'accuracy-met';

/** Figures are written with four decimals, mm. */
const ROUNDING = 1e-3;

/** Why a stage cannot have a remedy; undefined when it can. */
function missing({ cell }: RuleContext, { stage }: StageView, remedy: Remedy): string | undefined {
  switch (remedy) {
    case 'locate':
      return stage.handling.length > 1 ? undefined : `${stage.part} is never set down where there are stops`;
    case 'seat':
      return handlerNamed(cell, stage.robot)?.seating
        ? undefined
        : `${stage.robot} cannot seat a part with limited force`;
    case 'seam-search': {
      const unable = cell.welders.find(({ seamSearch }) => seamSearch === undefined);
      return unable && `${unable.id} cannot search a seam`;
    }
  }
}

function remedyFindings(context: RuleContext, view: StageView): Finding[] {
  const { remedies, accuracy } = view.stage;
  const where = `${view.where}.remedies`;
  const none =
    view.index === 0
      ? 'is the first part: it meets none and'
      : view.stage.manual && 'is fitted up by hand and';
  if (none !== undefined)
    return remedies.length + accuracy.length === 0
      ? []
      : [breach(ID, where, `${view.stage.part} ${none} needs no remedy`)];
  return remedies.flatMap((remedy, i) => {
    const twice = remedies.indexOf(remedy) < i ? 'it is there twice' : undefined;
    const why = missing(context, view, remedy) ?? twice;
    return why === undefined ? [] : [breach(ID, `${where}[${i}]`, `no ${remedy}: ${why}`)];
  });
}

/** Directions past their limit, the worst of each. */
function limitFindings({ view, verdicts }: JudgedAccuracy): Finding[] {
  const worst = new Map<string, (typeof verdicts)[number]>();
  for (const verdict of verdicts) {
    const known = worst.get(verdict.direction);
    if (!fits(verdict) && (known === undefined || verdict.total - verdict.limit > known.total - known.limit))
      worst.set(verdict.direction, verdict);
  }
  return [...worst.values()].map(({ direction, with: other, total, limit }) =>
    breach(
      ID,
      `${view.where}.accuracy`,
      `${direction} of ${view.stage.part} at ${other} is up to ${shown(total)} mm; ${shown(limit)} is allowed`,
      { value: total, limit },
    ),
  );
}

const near = (a: number | null, b: number | null): boolean =>
  a === null || b === null ? a === b : Math.abs(a - b) <= ROUNDING;

const same = (a: PlanAccuracy, b: PlanAccuracy): boolean =>
  a.direction === b.direction &&
  a.with === b.with &&
  a.remedy === b.remedy &&
  near(a.total, b.total) &&
  near(a.limit, b.limit) &&
  near(a.without, b.without) &&
  a.chain.length === b.chain.length &&
  a.chain.every(({ source, mm }, i) => source === b.chain[i]!.source && near(mm, b.chain[i]!.mm));

/** What the plan states against what its inputs come to. */
function statedFindings({ view, stated }: JudgedAccuracy): Finding[] {
  const { accuracy, part } = view.stage;
  const where = `${view.where}.accuracy`;
  if (accuracy.length !== stated.length) {
    const message = `${part} has ${accuracy.length} directions of accuracy; it has ${stated.length}`;
    return [breach(ID, where, message, { value: accuracy.length, limit: stated.length })];
  }
  const i = stated.findIndex((one, k) => !same(one, accuracy[k]!));
  if (i < 0) return [];
  const { direction, with: other, total } = stated[i]!;
  const message = `${direction} of ${part}: ${shown(accuracy[i]!.total)} mm is stated; at ${other} it is ${shown(total)} mm`;
  return [breach(ID, `${where}[${i}]`, message, { value: accuracy[i]!.total, limit: total })];
}

function judge(context: RuleContext): Finding[] {
  return [
    ...stageViews(context).flatMap((view) => remedyFindings(context, view)),
    ...judgedAccuracy(context).flatMap((one) => [...limitFindings(one), ...statedFindings(one)]),
  ];
}

/** Every part meets those in place within gap, place and seam tolerance, by what its errors add up to. */
export const accuracyMet: Rule = {
  id: ID,
  forbids:
    'directions whose chain of errors is over its limit, remedies that cannot be, chains that are not true',
  why: 'a part that is brought beside its place leaves a gap that no tack bridges, or clashes',
  judge,
};
