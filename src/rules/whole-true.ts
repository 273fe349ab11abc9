import type { Finding } from '../model/finding.js';
import type { PlanWhole } from '../model/plan-whole.js';
import { breach, type Rule } from './rule.js';
import { isLess, together } from './whole-totals.js';

const ID = 'whole-true';

const written = (values: readonly { readonly term: string; readonly value: number }[]): string =>
  values.map(({ term, value }) => `${term} ${value}`).join(', ');

/** Plans that are said to cost less than the one that was taken. */
function betterFindings({ objective, inOnePiece, search }: PlanWhole): Finding[] {
  const others = [
    { where: 'whole.inOnePiece', totals: inOnePiece?.objective },
    ...(search?.tried ?? []).map((one, i) => ({
      where: `whole.search.tried[${i}]`,
      totals: one.objective,
    })),
  ];
  return others.flatMap(({ where, totals }) =>
    totals !== undefined && isLess(totals, objective)
      ? [breach(ID, where, `${written(totals)} is less than ${written(objective)}, which was taken`)]
      : [],
  );
}

/** The terms of all plans together, and the grippers changed between them. */
export const wholeTrue: Rule = {
  id: ID,
  forbids:
    'totals of a plan with sub-assemblies other than their plans have together, or none, and a plan that was compared and costs less',
  why: 'sub-assemblies are chosen by these totals',
  judge: ({ plan }) => {
    const { whole, subAssemblies = [] } = plan;
    if (whole === undefined)
      return subAssemblies.length === 0
        ? []
        : [breach(ID, 'whole', 'what the plans come to together is not stated')];
    const { objective, changesBetween } = together([...subAssemblies.map((group) => group.plan), plan]);
    const [stated, counted] = [written(whole.objective), written(objective)];
    const message = `the totals are stated as ${stated}; the plans have ${counted}`;
    const between = `${whole.changesBetween} grippers are said to be changed between the plans; it is ${changesBetween}`;
    const numbers = { value: whole.changesBetween, limit: changesBetween };
    return [
      ...betterFindings(whole),
      ...(stated === counted ? [] : [breach(ID, 'whole.objective', message)]),
      ...(whole.changesBetween === changesBetween
        ? []
        : [breach(ID, 'whole.changesBetween', between, numbers)]),
    ];
  },
};
