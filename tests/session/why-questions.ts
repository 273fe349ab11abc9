import type { Question } from '../../src/explain/why/question.js';
import type { Plan } from '../../src/model/plan.js';
import type { OrderRelations } from '../../src/model/weldment.js';
import { everyTack } from '../../src/rules/stage-tacks.js';

/** Pairs of parts that follow each other in the plan, and those that its file puts in an order. */
function pairs(plan: Plan, { needs, blocking }: OrderRelations): Question[] {
  const parts = plan.stages.map(({ part }) => part);
  const given = [
    ...parts.slice(1).map((part, i): [string, string] => [parts[i]!, part]),
    ...needs.flatMap(({ part, after }) => after.map((first): [string, string] => [first, part])),
    ...blocking.flatMap(({ part, by }) => by.map((later): [string, string] => [part, later])),
  ];
  const distinct = new Map(given.map((pair) => [pair.join('\n'), pair]));
  return [...distinct.values()].map(([first, second]) => ({ ask: 'before', first, second }));
}

/** A tack of every joint that has one. */
function tacks(plan: Plan): Question[] {
  if (plan.kind === 'abstract') return [];
  const laid = plan.stages.flatMap(everyTack);
  return plan.joints.flatMap(({ id }): Question[] => {
    const tack = laid.find(({ joint }) => joint === id);
    return tack ? [{ ask: 'tack', tack: tack.id }] : [];
  });
}

/** Every choice of a plan that can be asked about; of its tacks one a joint. */
export const everyQuestion = (plan: Plan, relations: OrderRelations): Question[] => [
  ...pairs(plan, relations),
  ...plan.stages.flatMap((stage): Question[] => {
    const { part, number } = stage;
    const regrips = 'handling' in stage ? stage.handling.length > 1 : stage.regrips > 0;
    const held = 'held' in stage && stage.held !== null;
    return [
      { ask: 'grip', part },
      ...(regrips ? [{ ask: 'regrip', part } as const] : []),
      ...(held ? [{ ask: 'hold', stage: String(number) } as const] : []),
      ...(number > 1 ? [{ ask: 'not-first', part } as const] : []),
    ];
  }),
  ...tacks(plan),
];
