import type { GeometricPlan, ManualPlanTack, Step } from '../model/plan.js';
import { dryRun } from './dry-run.js';
import { stepWords } from './step-words.js';

interface Listed {
  readonly robot: string;
  readonly step: Step;
}

/** Steps after the last stage have no number. */
const stageOf = ({ stage }: Step): number => (stage === 0 ? Infinity : stage);

const sooner = (a: Step, b: Step): boolean =>
  stageOf(a) === stageOf(b) ? a.end < b.end : stageOf(a) < stageOf(b);

/**
 * The steps of all programs in one order in which they can be done one at a time: stage by stage where signals allow,
 * then by the ends that the plan states, and no wait before its signal. Steps that could never be done come last.
 */
function inTime({ programs }: GeometricPlan): readonly Listed[] {
  const next = programs.map(() => 0);
  const given = new Set<string>();
  const listed: Listed[] = [];
  const take = (p: number): void => {
    const { robot, steps } = programs[p]!;
    const step = steps[next[p]!]!;
    if (step.do === 'signal') given.add(step.handshake);
    next[p]! += 1;
    listed.push({ robot, step });
  };
  const count = programs.reduce((sum, { steps }) => sum + steps.length, 0);
  while (listed.length < count) {
    const left = programs.flatMap(({ steps }, p) => {
      const step = steps[next[p]!];
      return step ? [{ p, step }] : [];
    });
    const free = left.filter(({ step }) => step.do !== 'await' || given.has(step.handshake));
    const among = free.length > 0 ? free : left;
    take(among.reduce((first, one) => (sooner(one.step, first.step) ? one : first)).p);
  }
  return listed;
}

/** Lines of one stage after another, where the order of time goes from one to the next and comes back. */
function runs(listed: readonly Listed[]): readonly (readonly Listed[])[] {
  const found: Listed[][] = [];
  for (const one of listed) {
    const last = found.at(-1);
    if (last && last[0]!.step.stage === one.step.stage) last.push(one);
    else found.push([one]);
  }
  return found;
}

/** A step to tick, in words that are safe to show. */
export interface CheckItem {
  readonly robot: string;
  readonly step: Step;
  readonly what: string;
  readonly watch: string;
  /** Why to stop before it as long as nothing is tacked, as the plan's names have it; undefined: go on. */
  readonly stop: string | undefined;
  /** Tacks that a person lays in it. */
  readonly byHand: readonly ManualPlanTack[];
}

/** Steps of one stage that follow each other. */
export interface CheckRun {
  /** 0: after the last stage. */
  readonly stage: number;
  /** Whether steps of another stage came between it and earlier ones of the same. */
  readonly again: boolean;
  readonly items: readonly CheckItem[];
}

/** Every step of every robot in an order in which they can be tried one at a time. */
export function checkRuns(plan: GeometricPlan): readonly CheckRun[] {
  const stops = new Map(dryRun(plan).stops.map(({ robot, step, why }) => [`${robot} ${step}`, why] as const));
  const byHand = new Map(plan.stages.map(({ number, manual }) => [number, manual?.tacks ?? []] as const));
  const begun = new Set<number>();
  return runs(inTime(plan)).map((run) => {
    const { stage } = run[0]!.step;
    const again = begun.has(stage);
    begun.add(stage);
    const items = run.map(({ robot, step }) => ({
      ...{ robot, step, ...stepWords(step, plan.handshakes) },
      stop: stops.get(`${robot} ${step.n}`),
      byHand: step.do === 'manual' ? (byHand.get(step.stage) ?? []) : [],
    }));
    return { stage, again, items };
  });
}

/** What to see to before the first step. */
export const BEFORE_FIRST_STEP: readonly string[] = [
  'Single step, reduced speed, one person at the enabling switch, nobody else inside the guards.',
  'First without parts, then with parts and without arc, then with the arc; each time from the first step.',
  'Wire drawn in and welding power off while there shall be no arc.',
  'Every protective stop tried before the first move.',
];
