import { bestOrderAndWays, type SequenceProblem, type SequenceStep } from '../algorithms/sequence-search.js';
import { rounded } from '../base/order.js';
import type { GeometricPlan, PlanWeld, WeldRun } from '../model/plan.js';
import { replayedStages, type Replayed } from '../rules/distortion-replay.js';
import type { SeamPlace } from '../rules/seam-places.js';
import {
  segmentCount,
  tackedUp,
  weldAccount,
  weldRuns,
  weldSeams,
  weldSegments,
  weldValue,
  Welding,
  WELD_WAYS,
  type WeldWay,
} from '../rules/weld-run.js';

const DIGITS = 3;

/** What is left out of the prediction of the full welds, on top of what that of the tacks leaves out. */
export const WELD_ASSUMPTIONS: readonly string[] = [
  'a screening estimate: it ranks orders of the full welds; it replaces no weld procedure and no measurement',
  'all seams of the plan are welded from end to end in one layer of the leg of their joint, one after the other, each with the full published shrinkage of a continuous weld; what is welded beyond them is left out',
  'a seam counts as laid and shrunk in short segments, each stress-free in the shape in which it is laid; what a seam has already shrunk and turned by since it was begun is not made once more',
  'the tacks stay what they are and are not melted again; heat and the stress that welding leaves are left out, as for the tacks',
  'parts are rigid: plates that the welds bend, most of the distortion where tacks hold both sides of a joint, do not occur here, so figures are small then and serve to compare orders',
  'all grippers are away; the clamps of the first part hold until the last seam is laid and are then opened, so that all springs back; nothing else holds the weldment',
  'whether a torch gets at a seam, and how the weldment is turned for it, is not judged',
];

/** A seam with the different ways to lay it. */
interface Choice {
  readonly seam: SeamPlace;
  readonly ways: readonly (readonly WeldRun[])[];
  /** Which of these each named way is. */
  readonly named: ReadonlyMap<WeldWay, number>;
}

function choiceOf(seam: SeamPlace, { scene, settings }: Replayed): Choice {
  const keys: string[] = [];
  const ways: (readonly WeldRun[])[] = [];
  const named = WELD_WAYS.map((way): [WeldWay, number] => {
    const runs = weldRuns(seam, way, settings);
    // Ways that lay the same segments in the same order are one: within a segment the direction makes no difference here.
    const middles = runs.flatMap((run) => weldSegments(scene, settings, seam, run).map(({ at }) => at));
    const key = JSON.stringify(middles.map((at) => at.map((x) => rounded(x, 1))));
    if (!keys.includes(key)) {
      keys.push(key);
      ways.push(runs);
    }
    return [way, keys.indexOf(key)];
  });
  return { seam, ways, named: new Map(named) };
}

function problemOf(
  { scene, settings }: Replayed,
  choices: readonly Choice[],
  start: Welding,
  inPlace: readonly number[],
): SequenceProblem<Welding> {
  return {
    start,
    ways: choices.map(({ ways }) => ways.length),
    costs: choices.map(({ seam }) => segmentCount(seam.length, settings)),
    extend: (state, { item, way }) => {
      const { seam, ways } = choices[item]!;
      const next = state.copy();
      for (const run of ways[way]!) next.lay(seam, run);
      return next;
    },
    score: ({ run }) => weldValue(scene, run, inPlace),
    value: ({ run }) => {
      const end = run.copy();
      end.openClamps();
      return weldValue(scene, end, inPlace);
    },
  };
}

/** The order of the file with each seam laid in one way. */
const habit = (choices: readonly Choice[], way: WeldWay): readonly SequenceStep[] =>
  choices.map(({ named }, item) => ({ item, way: named.get(way)! }));

/**
 * An order and directions for the full welds of a plan, by the engine that predicts its tacks; undefined where the plan
 * has no seam. Never worse than the order of the file, back-step and skip.
 */
export function weldOrder(context: Replayed): PlanWeld | undefined {
  const { scene, settings } = context;
  const stages = replayedStages(context);
  if (stages === undefined) return undefined;
  const choices = weldSeams(context, stages).map((seam) => choiceOf(seam, context));
  if (choices.length === 0) return undefined;
  const inPlace = stages.map(({ part }) => part);
  const problem = problemOf(
    context,
    choices,
    new Welding(scene, settings, tackedUp(context, stages)),
    inPlace,
  );
  const habits = {
    file: habit(choices, 'forwards'),
    'back-step': habit(choices, 'back-step'),
    skip: habit(choices, 'skip'),
  };
  const { best, worst, method, tried } = bestOrderAndWays(
    problem,
    Object.values(habits),
    settings.weld.tries,
  );
  const end = (steps: readonly SequenceStep[]): Welding => steps.reduce(problem.extend, problem.start);
  const runsOf = (steps: readonly SequenceStep[]): WeldRun[] =>
    steps.flatMap(({ item, way }) => [...choices[item]!.ways[way]!]);
  const valueOf = (steps: readonly SequenceStep[]): number => rounded(problem.value(end(steps)), DIGITS);
  return {
    estimate: 'screening',
    assumptions: [...WELD_ASSUMPTIONS],
    ...weldAccount(scene, end(best.steps).run, inPlace),
    runs: runsOf(best.steps),
    search: { method, tried },
    habits: {
      file: valueOf(habits.file),
      'back-step': valueOf(habits['back-step']),
      skip: valueOf(habits.skip),
    },
    worst: { value: valueOf(worst.steps), runs: runsOf(worst.steps) },
  };
}

/** The plan with an order for its full welds. */
export function withWeld(plan: GeometricPlan, inputs: Omit<Replayed, 'plan'>): GeometricPlan {
  const weld = weldOrder({ ...inputs, plan });
  return weld === undefined ? plan : { ...plan, weld };
}
