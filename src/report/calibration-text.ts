import { stringify } from 'yaml';
import { rounded } from '../base/order.js';
import {
  FACTORS,
  type Calibration,
  type FittedFactor,
  type FittedMeasurement,
} from '../model/calibration.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { paragraph, textTable } from './text-table.js';

const FACTOR_HEADS = [
  { title: 'factor', most: 12 },
  { title: 'before', most: 8, side: 'right' },
  { title: 'now', most: 8, side: 'right' },
  { title: '95 % interval', most: 18 },
  { title: 'said of it', most: 40 },
] as const;

const MEASURED_HEADS = [
  { title: 'step', most: 24 },
  { title: 'part', most: 16 },
  { title: 'at', most: 24 },
  { title: 'along', most: 5 },
  { title: 'measured', most: 8, side: 'right' },
  { title: 'before', most: 8, side: 'right' },
  { title: 'now', most: 8, side: 'right' },
  { title: 'rest', most: 8, side: 'right' },
] as const;

const fixed = (value: number, digits = 3): string => rounded(value, digits).toFixed(digits);

function remark({ told, interval, name }: FittedFactor): string {
  switch (told.kind) {
    case 'no-influence':
      return 'kept: no measured point depends on it';
    case 'not-apart': {
      const others = told.from.map((i) => FACTORS[i]!);
      return others.length === 0
        ? 'kept: the data cannot tell it'
        : `kept: what ${name} does to these points, ${listed(others)} ${others.length === 1 ? 'does' : 'do'} as well`;
    }
    case 'at-limit':
      return 'at the end of its range: the data would draw it beyond';
    case 'fitted':
      if (interval === undefined)
        return 'fitted; no interval, since there are no more measurements than factors';
      return interval[0] <= 0 ? 'fitted, but the data leave open whether it is there at all' : 'fitted';
  }
}

const factorRow = (factor: FittedFactor): string[] => [
  factor.name,
  fixed(factor.before),
  fixed(factor.value),
  factor.interval ? `${fixed(factor.interval[0])} to ${fixed(factor.interval[1])}` : '-',
  remark(factor),
];

const measuredRow = ({
  step,
  part,
  at,
  direction,
  millimetres,
  before,
  predicted,
}: FittedMeasurement): string[] => [
  plain(step),
  plain(part),
  at ? at.map((x) => amount(x, 1)).join(' / ') : direction === 'bow' ? 'its middle' : 'its centre',
  direction,
  ...[millimetres, before, predicted, millimetres - predicted].map((x) => fixed(x)),
];

/** Root mean square of what measurements are off a prediction, mm. */
const meanRest = (measurements: readonly FittedMeasurement[], of: 'before' | 'predicted'): number =>
  Math.sqrt(
    measurements.reduce((sum, one) => sum + (one.millimetres - one[of]) ** 2, 0) / measurements.length,
  );

/** The fitted factors as a settings file, to be given to `plan` or put into one of your own. */
export const calibratedSettings = ({ settings }: Calibration): string =>
  stringify(settings, { lineWidth: 0 });

/** What a calibration came to, for people. */
export function calibrationText(calibration: Calibration): string {
  const { weldment, factors, measurements, freedom, standardError, settled } = calibration;
  const rests = `measurements are off by ${fixed(meanRest(measurements, 'predicted'))} mm (root mean square), before by ${fixed(meanRest(measurements, 'before'))} mm`;
  const error =
    standardError === undefined
      ? 'no standard error, since there are no more measurements than factors'
      : `standard error ${fixed(standardError)} mm with ${counted(freedom, 'degree')} of freedom`;
  return [
    `Shrinkage factors of ${plain(weldment)}, fitted to ${counted(measurements.length, 'measurement')}`,
    '',
    ...textTable(FACTOR_HEADS, factors.map(factorRow)),
    '',
    ...paragraph('Fit: ', `${error}; ${rests}.`),
    ...(settled ? [] : paragraph('Caution: ', 'the fit was stopped before it came to rest.')),
    ...paragraph(
      'Intervals: ',
      "Student's t on the derivatives at the answer; they hold as far as errors of measuring are random and the replay, a screening estimate with the stiffnesses of the settings, is right.",
    ),
    '',
    'Measurements, mm (before and now: what the replay predicts):',
    ...textTable(MEASURED_HEADS, measurements.map(measuredRow)),
    '',
    'For the settings:',
    ...stringify({ distortion: calibration.settings.distortion }, { lineWidth: 0 }).trimEnd().split('\n'),
    '',
  ].join('\n');
}
