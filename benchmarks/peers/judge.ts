import type { Cost } from '../../src/algorithms/cost.js';
import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { fail, ok, type Result } from '../../src/base/result.js';
import type { ObjectiveTerm, Settings } from '../../src/model/settings.js';
import { DEFAULT_SETTINGS, withoutShapes } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { abstractDocument } from '../../src/planning/abstract-plan.js';
import { checkAbstract } from '../../src/rules/check-abstract.js';
import type { Choice } from './weldment-model.js';

/**
 * What a plan costs in the terms of the objective, time in milliseconds, counted here from the file; or what the rules of
 * `check` find wrong with it.
 */
export function judgeWeldment(
  weldment: AbstractWeldment,
  objective: readonly ObjectiveTerm[],
  choices: readonly Choice[],
): Result<Cost, string> {
  const settings: Settings = { ...DEFAULT_SETTINGS, objective: [...objective] };
  const steps = stepsOf(weldment, choices);
  const total = (value: (step: (typeof steps)[number]) => number): number =>
    steps.reduce((sum, step) => sum + value(step), 0);
  const counted: Readonly<Record<ObjectiveTerm, number>> = {
    regrips: total(({ regrips }) => regrips),
    'tool-changes': total(({ changes }) => changes),
    distortion: 0,
    time: total(({ milliseconds }) => milliseconds),
    wishes: 0,
  };
  const cost = withoutShapes(objective).map((term) => counted[term]);
  const counters = { expanded: 0, generated: 0, completed: 0, refused: 0 };
  const plan = abstractDocument(
    {
      ...{ outcome: 'optimal', best: { steps, cost, result: undefined }, bound: cost, improvements: [] },
      ...{
        provedTerms: cost.length,
        counters: { ...counters, pruned: 0, dominated: 0, released: 0, dropped: 0 },
      },
    },
    weldment,
    settings,
    { weldment: { name: weldment.name, digest: '' }, warnings: [] },
  );
  const findings = checkAbstract(weldment, plan);
  return findings.length === 0 ? ok(cost) : fail(findings.map(({ message }) => message).join('; '));
}

function stepsOf({ parts, joints, times }: AbstractWeldment, choices: readonly Choice[]) {
  const placed = new Set<string>();
  let mounted: string | null = null;
  return choices.map(({ part, gripper, regrips }) => {
    const ways = parts.find(({ id }) => id === part)?.ways ?? [];
    const fitting = ways.filter((way) => way.gripper === (gripper ?? '') && way.regrips === regrips);
    const handling = Math.min(...(ways.length === 0 ? [0] : fitting.map(({ seconds }) => seconds)));
    const closed = joints.filter(
      ({ between: [a, b] }) => (a === part && placed.has(b)) || (b === part && placed.has(a)),
    );
    const tacks = closed.reduce((sum, joint) => sum + joint.tacks, 0);
    const changes: number = gripper !== null && mounted !== null && gripper !== mounted ? 1 : 0;
    placed.add(part);
    mounted = gripper ?? mounted;
    const milliseconds = [
      handling,
      ...closed.map((joint) => joint.tacks * times.tack),
      changes * times.toolChange,
    ]
      .map((seconds) => Math.round(1000 * 1024 * seconds) / 1024)
      .reduce((sum, time) => sum + time, 0);
    return { part, gripper, regrips, tacks, changes, milliseconds };
  });
}

/** What an order costs, straight from the matrix, or why it is not legal. */
export function judgeOrdering(
  { cost }: SequentialOrdering,
  order: readonly number[],
): Result<number, string> {
  const n = cost.length;
  if (order.length !== n || new Set(order).size !== n || order.some((node) => cost[node] === undefined))
    return fail(`${order.join(' ')} does not visit each of ${n} nodes once`);
  if (order[0] !== 0 || order[n - 1] !== n - 1)
    return fail(`begins with ${order[0]}, ends with ${order[n - 1]}`);
  for (const [at, node] of order.entries())
    for (const later of order.slice(at + 1))
      if (cost[node]![later] === -1) return fail(`${node} comes before ${later}`);
  return ok(order.slice(1).reduce((sum, node, at) => sum + cost[order[at]!]![node]!, 0));
}
