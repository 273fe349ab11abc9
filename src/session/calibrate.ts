import { fitLeastSquares, type Fit } from '../algorithms/least-squares.js';
import { studentQuantile } from '../algorithms/student.js';
import { rounded } from '../base/order.js';
import { readMeasurements } from '../io/read-measurements.js';
import { readPlan } from '../io/read-plan.js';
import { printable } from '../io/show.js';
import { FACTORS, type Calibration, type FittedFactor } from '../model/calibration.js';
import type { Issue } from '../model/issue.js';
import type { Measurement } from '../model/measurement.js';
import type { GeometricPlan } from '../model/plan.js';
import { buildScene } from '../model/scene.js';
import { replayedStages } from '../rules/distortion-replay.js';
import { inputFindings } from './check.js';
import { readInputs, type Source, type Sources } from './inputs.js';
import { measuredMoments } from './measured-moments.js';
import { mainInputs } from './sub-assemblies/main-inputs.js';

/** What a calibration came to. */
export type CalibrationOutcome =
  | { readonly kind: 'calibrated'; readonly calibration: Calibration; readonly warnings: readonly Issue[] }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] };

/** The files of a calibration as text. */
export interface CalibrationSources extends Sources {
  readonly measurements: Source;
  readonly plan: Source;
}

/** Chance that an interval holds the true value. */
const CONFIDENCE = 0.95;
/** As settings allow them. */
const [LEAST, MOST] = [0, 10];
/**
 * How the fit looks at a replay, all our choice: derivatives over a hundredth of a factor, as tacks yield and gaps close
 * by steps; a factor that moves no measured point by 0.001 mm when it changes by 1 is not there; and two are one when
 * their effects differ by less than a hundredth.
 */
const FITTING = { step: 0.01, influence: 0.001, apart: 0.01, rest: 1e-7 } as const;
const DIGITS = 4;

/**
 * Fits the shrinkage factors to measured deviations, so that a replay of the plan predicts them best. The plan is taken as
 * it is, as long as it is for these files: whether it is legal is for `check` to say.
 */
export function calibrate(sources: CalibrationSources): CalibrationOutcome {
  const measured = readMeasurements(sources.measurements.text, sources.measurements.name);
  const plan = readPlan(sources.plan.text, sources.plan.name);
  const { inputs, issues } = readInputs(sources);
  const all = [...measured.issues, ...plan.issues, ...issues];
  const refused = (...further: readonly Issue[]): CalibrationOutcome => ({
    kind: 'bad-input',
    issues: [...all, ...further],
  });
  if (!measured.value || !plan.value || !inputs) return refused();
  const { weldment, cell } = mainInputs(plan.value, inputs);
  if (plan.value.kind === 'abstract' || weldment.kind === 'abstract' || cell === undefined)
    return refused(
      about(
        sources.plan,
        'kind',
        'an abstract plan has no distortion',
        'give the plan of a weldment with shapes',
      ),
    );
  const foreign = inputFindings(plan.value, inputs).map(({ where, message }) =>
    about(sources.plan, where, message, 'give the files that the plan was made for'),
  );
  if (foreign.length > 0) return refused(...foreign);
  const { settings } = plan.value;
  const context = { plan: plan.value, cell, settings, scene: buildScene(weldment, cell, settings) };
  const file = sources.measurements.name;
  const stages = replayedStages(context);
  if (stages === undefined)
    return refused(
      about(
        sources.plan,
        'stages',
        'a part, grip or seam in them is not known, so they cannot be replayed',
        'see what `check` says of the plan',
      ),
    );
  const moments = measuredMoments(context, stages, measured.value, file);
  if (moments.kind === 'bad') return refused(...moments.issues);
  const start = FACTORS.map((name) => settings.distortion[name]);
  const fit = fitLeastSquares({
    ...{ measured: measured.value.map(({ millimetres }) => millimetres), predict: moments.predict, start },
    ...{ sizes: FACTORS.map(() => 1), least: LEAST, most: MOST, ...FITTING },
  });
  if (fit.told.every(({ kind }) => kind !== 'fitted'))
    return refused(
      about(
        sources.measurements,
        '',
        'no factor can be told from these points: none moves them, or what one does others do as well',
        'measure several points that tacks move, near seams and far from them, after the tacks are laid',
      ),
    );
  return {
    kind: 'calibrated',
    calibration: calibrationOf(plan.value, measured.value, fit, moments.predict(start), file),
    warnings: all,
  };
}

const about = ({ name }: Source, path: string, problem: string, remedy: string): Issue => ({
  ...{ code: 'calibration', severity: 'error', file: name, line: 0 },
  ...{ path, problem, remedy },
});

function calibrationOf(
  plan: GeometricPlan,
  measured: readonly Measurement[],
  fit: Fit,
  before: readonly number[],
  file: string,
): Calibration {
  const factors = FACTORS.map((name, i) => factorOf(name, i, plan, fit));
  const { freedom, standardError, settled, residuals } = fit;
  const values = Object.fromEntries(factors.map(({ name, value }) => [name, value]));
  return {
    ...{ weldment: plan.weldment.name, factors, freedom, standardError, settled },
    measurements: measured.map((one, i) => ({
      ...one,
      before: before[i]!,
      predicted: one.millimetres - residuals[i]!,
    })),
    settings: {
      ...plan.settings,
      distortion: {
        ...plan.settings.distortion,
        ...values,
        origin: originOf(factors, measured.length, file),
      },
    },
  };
}

function factorOf(
  name: FittedFactor['name'],
  i: number,
  { settings }: GeometricPlan,
  { values, told, deviations, freedom }: Fit,
): FittedFactor {
  const deviation = deviations[i];
  const reach =
    deviation === undefined ? undefined : studentQuantile((1 + CONFIDENCE) / 2, freedom) * deviation;
  const before = settings.distortion[name];
  return {
    ...{ name, before, told: told[i]! },
    value: told[i]!.kind === 'fitted' ? rounded(values[i]!, DIGITS) : values[i]!,
    interval: reach === undefined ? undefined : [values[i]! - reach, values[i]! + reach],
  };
}

const LONGEST_NAME = 60;

/** Where the factors come from, in a line, with the name of the file without its folders. */
function originOf(factors: readonly FittedFactor[], count: number, file: string): string {
  const fitted = factors
    .filter(({ told }) => told.kind === 'fitted')
    .map(({ name, value, interval }) => {
      const reach = interval && ` +- ${rounded((interval[1] - interval[0]) / 2, 3)}`;
      return `${name} ${rounded(value, 3)}${reach ?? ''}`;
    });
  const name = file.split(/[\\/]/).at(-1)!.slice(-LONGEST_NAME);
  return `fitted to ${count} measurement${count === 1 ? '' : 's'} in ${printable(name)}: ${fitted.join(', ')}`;
}
