import { seededRandom } from '../../src/base/random.js';
import type { FamilyTask, FamilyTaskResult, RunTask } from '../../src/family/task.js';
import type { BuildPattern } from '../../src/model/build-pattern.js';
import type { Family, FamilyParameter, Variant } from '../../src/model/family.js';
import type { Limit, ParameterValue } from '../../src/model/family-result.js';
import type { GeometricPlan } from '../../src/model/plan.js';

export type Values = Readonly<Record<string, ParameterValue>>;

/** What a way of building costs a variant, as regrips and tenths of a second, or what stops it. */
export type Way = (values: Values) => readonly [number, number] | { readonly stops: string };

/** Ways of building, by name, instead of a planner: the own plan of a variant is by the cheapest way that works. */
export type World = Readonly<Record<string, Way>>;

export const stopped = (code: string): Limit => ({ code, subjects: ['base'], text: `stopped by ${code}` });

/** A plan with no more than what a family reads off it. */
const planOf = ([regrips, time]: readonly [number, number]): GeometricPlan =>
  ({
    objective: [
      { term: 'regrips', value: regrips, bound: regrips },
      { term: 'tool-changes', value: 0, bound: 0 },
      { term: 'time', value: time, bound: 0 },
    ],
    stages: [
      {
        ...{ number: 1, part: 'base', robot: 'handler', held: null, stands: 'clamped', approach: null },
        ...{ handling: [], tacks: [], reserves: [], proofPull: null },
      },
    ],
    ...{ programs: [], timeline: { makespan: time / 10 }, distortion: { features: [] } },
    ...{ proof: { provedTerms: ['regrips'] }, warnings: [], cautions: [] },
  }) as unknown as GeometricPlan;

/** A pattern that tells of which way it is by its robot. */
const patternOf = (way: string, from: string): BuildPattern => ({
  ...{ id: '', from },
  stages: [
    {
      ...{ part: 'base', robot: way, turn: 0, regrips: [], grip: null },
      ...{ held: false, alsoHeld: null, handshakes: [] },
    },
  ],
});

const wayOf = (pattern: BuildPattern): string => pattern.stages[0]!.robot!;

const isFound = (found: ReturnType<Way>): found is readonly [number, number] => Array.isArray(found);

export function fakeTask(world: World, task: FamilyTask): FamilyTaskResult {
  const { values, name } = task.variant;
  if (task.kind === 'follow') {
    const found = world[wayOf(task.pattern)]!(values);
    return isFound(found)
      ? { kind: 'planned', plan: planOf(found), pattern: task.pattern }
      : { kind: 'impossible', reasons: [stopped(found.stops)] };
  }
  const ways = Object.entries(world).map(([way, costs]) => ({ way, found: costs(values) }));
  const working = ways.flatMap(({ way, found }) => (isFound(found) ? [{ way, found }] : []));
  working.sort((a, b) => a.found[0] - b.found[0] || a.found[1] - b.found[1]);
  const [best] = working;
  if (best) return { kind: 'planned', plan: planOf(best.found), pattern: patternOf(best.way, name) };
  const stops = ways.flatMap(({ found }) => (isFound(found) ? [] : [stopped(found.stops)]));
  return { kind: 'impossible', reasons: stops.slice(0, 1) };
}

/** Carries tasks out at once. */
export const runAtOnce =
  (world: World): RunTask =>
  (task) =>
    Promise.resolve(fakeTask(world, task));

/** Carries tasks out in an order that the seed decides, now one and now another of those that wait. */
export function runInAnyOrder(world: World, seed: number): RunTask {
  const random = seededRandom(seed);
  const waiting: (() => void)[] = [];
  const next = (): void => {
    const [done] = waiting.splice(Math.floor(random() * waiting.length), 1);
    done!();
    if (waiting.length > 0) setImmediate(next);
  };
  return (task) =>
    new Promise((resolve) => {
      waiting.push(() => resolve(fakeTask(world, task)));
      if (waiting.length === 1) setImmediate(next);
    });
}

export const variantNamed = (name: string, values: Values): Variant => ({
  ...{ name, values },
  text: JSON.stringify({ weldment: name, parts: { base: {} }, values }),
});

/** A family of these variants; between them the parameters without a range are 1. */
export const familyOf = (
  variants: readonly Variant[],
  parameters: readonly FamilyParameter[] = [{ name: 'height' }],
): Family => ({
  ...{ name: 'stands', digest: 'd', parameters, variants },
  variantOf: (name, given) => {
    const fixed = Object.fromEntries(parameters.flatMap((one) => (one.range ? [] : [[one.name, 1]])));
    return { variant: variantNamed(name, { ...fixed, ...given }), issues: [] };
  },
});
