import { nearestWord } from '../io/nearest-word.js';
import { showNames, showValue } from '../io/show.js';
import { inverse, place, rotate } from '../geometry/pose.js';
import { dot, type Vec3 } from '../geometry/vector.js';
import { FACTORS } from '../model/calibration.js';
import type { Issue } from '../model/issue.js';
import { AXES, type Measurement } from '../model/measurement.js';
import { stepName } from '../rules/distortion-account.js';
import { bowsOf } from '../rules/distortion-bows.js';
import type { Replayed } from '../rules/distortion-replay.js';
import { DistortionRun, runStage, type DistortionStage } from '../rules/distortion-run.js';
import type { ShrinkingTack } from '../rules/distortion-tacks.js';

/** A measured point may be this far outside the box round its part, mm: probes have a size (our choice). */
const BESIDE = 20;

/** A step of the replay, by its place among all. */
interface Moment {
  readonly name: string;
  /** Number of its stage in the plan. */
  readonly stage: number;
  readonly inPlace: ReadonlySet<number>;
}

/** A measurement that the replay can be asked for. */
type Question =
  | {
      readonly kind: 'point';
      readonly moment: number;
      readonly part: number;
      /** The point and the direction in the cell. */
      readonly at: Vec3;
      readonly along: Vec3;
    }
  /** Of the member to which the part belongs, at the end. */
  | { readonly kind: 'bow'; readonly part: number };

/** What a plan predicts for measurements, or what is wrong with these. */
export type MeasuredMoments =
  | { readonly kind: 'bad'; readonly issues: readonly Issue[] }
  /** One number a measurement, mm, for factors in the order of `FACTORS`. */
  | { readonly kind: 'known'; predict(factors: readonly number[]): readonly number[] };

/** Finds in the replay of a plan the moments and points that were measured; `file` is what messages call them by. */
export function measuredMoments(
  context: Replayed,
  stages: readonly DistortionStage[],
  measurements: readonly Measurement[],
  file: string,
): MeasuredMoments {
  const moments = momentsOf(context, stages);
  const bows = bowsOf(context.scene, context.settings, tacksOf(stages));
  const issues: Issue[] = [];
  const questions = measurements.map((one) => {
    const complain = (path: string, problem: string, remedy: string): undefined => {
      issues.push({ code: 'measurement', severity: 'error', file, line: one.line, path, problem, remedy });
    };
    const question = questionOf(context, moments, one, complain);
    if (question?.kind === 'bow' && !bows.some(({ parts }) => parts.includes(question.part)))
      return complain(
        'part',
        `${showValue(one.part)} belongs to no slender member that bows`,
        'measure points of it',
      );
    return question;
  });
  if (issues.length > 0) return { kind: 'bad', issues };
  return { kind: 'known', predict: (factors) => answers(context, stages, questions as Question[], factors) };
}

function momentsOf(
  { plan, scene, settings }: Replayed,
  stages: readonly DistortionStage[],
): readonly Moment[] {
  const run = new DistortionRun(scene, settings);
  const inPlace = new Set<number>();
  return stages.flatMap((stage) => {
    inPlace.add(stage.part);
    const here = new Set(inPlace);
    const number = plan.stages.find(({ part }) => part === scene.parts[stage.part]!.part.id)!.number;
    return runStage(run, stage).map((event) => ({
      name: stepName(scene, event),
      stage: number,
      inPlace: here,
    }));
  });
}

type Complain = (path: string, problem: string, remedy: string) => undefined;

function questionOf(
  { scene }: Replayed,
  moments: readonly Moment[],
  { step, part: id, direction, at, millimetres }: Measurement,
  complain: Complain,
): Question | undefined {
  const moment = momentOf(moments, step, complain);
  const part = scene.index.get(id);
  if (part === undefined) {
    const names = scene.parts.map((one) => one.part.id);
    const meant = nearestWord(id, names);
    return complain(
      'part',
      `there is no part ${showValue(id)}`,
      meant ? `did you mean ${meant}?` : `parts are ${showNames(names)}`,
    );
  }
  if (moment === undefined) return undefined;
  if (!moments[moment]!.inPlace.has(part))
    return complain(
      'part',
      `${showValue(id)} is not in place yet after step ${showValue(step)}`,
      'name a later step',
    );
  if (direction === 'bow') {
    if (millimetres < 0)
      return complain('millimetres', 'a bow is predicted by its size alone', 'write it without its sign');
    if (moment === moments.length - 1 && at === undefined) return { kind: 'bow', part };
    return complain(
      'direction',
      'a bow is predicted for the whole tack-up and in the middle only',
      `give step ${moments.at(-1)!.stage} and no place`,
    );
  }
  const { weldmentPose } = scene.cell;
  const { solid, own, pose } = scene.parts[part]!;
  const point = at === undefined ? solid.centre : place(weldmentPose, at);
  const { low, high } = own.bounds;
  const there = place(inverse(pose), point);
  if (there.some((x, i) => x < low[i]! - BESIDE || x > high[i]! + BESIDE))
    return complain(
      'at_x',
      `the point is more than ${BESIDE} mm outside of ${showValue(id)}`,
      'give its nominal place in the weldment frame',
    );
  const axis = AXES.indexOf(direction);
  return {
    ...{ kind: 'point', moment, part, at: point },
    along: rotate(weldmentPose.turn, AXES.map((_, i) => (i === axis ? 1 : 0)) as unknown as Vec3),
  };
}

/** The step that a measurement names: the last one of a stage, or the one of that name. */
function momentOf(moments: readonly Moment[], step: string, complain: Complain): number | undefined {
  const stage = /^\d+$/.test(step) ? Number(step) : undefined;
  const found = moments.flatMap(({ name, stage: number }, i) =>
    (stage === undefined ? name === step || name === `tack ${step}` : number === stage) ? [i] : [],
  );
  if (found.length === 1 || (stage !== undefined && found.length > 0)) return found.at(-1);
  if (found.length > 1) {
    const numbers = found.map((i) => String(moments[i]!.stage));
    return complain(
      'step',
      `${showValue(step)} happens in stages ${showNames(numbers)}`,
      'give the number of a stage, for its end, or a tack',
    );
  }
  const last = moments.at(-1)?.stage ?? 0;
  const names = moments.map(({ name }) => name);
  const meant = nearestWord(step, [...names.map((name) => name.replace(/^tack /, '')), ...names]);
  return complain(
    'step',
    `the plan has no step ${showValue(step)}`,
    meant
      ? `did you mean ${meant}?`
      : `give the number of a stage, 1 to ${last}, a tack, or a step as stage.distortion of the plan names it`,
  );
}

const tacksOf = (stages: readonly DistortionStage[]): readonly ShrinkingTack[] =>
  stages.flatMap(({ securing, completing }) => [...securing, ...completing]);

function answers(
  { scene, settings: given }: Replayed,
  stages: readonly DistortionStage[],
  questions: readonly Question[],
  factors: readonly number[],
): readonly number[] {
  const trial = Object.fromEntries(FACTORS.map((name, i) => [name, factors[i]!]));
  const settings = { ...given, distortion: { ...given.distortion, ...trial } };
  const run = new DistortionRun(scene, settings);
  const bows = bowsOf(scene, settings, tacksOf(stages));
  const found = questions.map((one) =>
    one.kind === 'bow' ? bows.find(({ parts }) => parts.includes(one.part))!.bow : 0,
  );
  let moment = 0;
  for (const stage of stages)
    runStage(run, stage, () => {
      questions.forEach((one, i) => {
        if (one.kind === 'point' && one.moment === moment)
          found[i] = dot(run.displacement(one.part, one.at), one.along);
      });
      moment += 1;
    });
  return found;
}
