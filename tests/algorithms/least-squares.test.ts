import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { inverse, Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fitLeastSquares } from '../../src/algorithms/least-squares.js';
import { studentQuantile } from '../../src/algorithms/student.js';
import { seededRandom } from '../../src/base/random.js';
import { noise } from '../support/noise.js';
import { REFERENCE_FITS, type ReferenceFit } from './reference-fits.js';

const fitOf = ({ rows, predict, linear }: ReferenceFit, start: readonly number[]) =>
  fitLeastSquares({
    measured: rows.map(([y]) => y!),
    predict: (b) => rows.map((row) => predict(b, row.slice(1))),
    start,
    // A straight line may be differentiated by long steps, where short ones would only add rounding.
    ...(linear ? { step: 1 } : {}),
  });

/** Digits in which two numbers agree: -log10 of their relative difference. */
const agreement = (found: number, certified: number): number =>
  found === certified ? 15 : -Math.log10(Math.abs((found - certified) / certified));

describe('least squares: certified fits of NIST', () => {
  const cases = REFERENCE_FITS.flatMap((set) => set.starts.map((start) => ({ name: set.name, set, start })));

  it.each(cases)('$name from $start', ({ set, start }) => {
    const fit = fitOf(set, start);
    expect(fit.settled).toBe(true);
    expect(fit.told.every(({ kind }) => kind === 'fitted')).toBe(true);
    expect(fit.freedom).toBe(set.rows.length - set.certified.length);
    for (const [j, value] of set.certified.entries()) {
      expect(agreement(fit.values[j]!, value)).toBeGreaterThan(set.digits);
      // The derivatives of the fit are numeric.
      expect(agreement(fit.deviations[j]!, set.deviations[j]!)).toBeGreaterThan(6);
    }
    expect(agreement(fit.standardError!, set.standardError)).toBeGreaterThan(set.digits);
  });
});

describe('least squares: an independent library', () => {
  it('fits the same curve', () => {
    const set = REFERENCE_FITS.find(({ name }) => name.startsWith('Misra1a'))!;
    const other = levenbergMarquardt(
      { x: set.rows.map(([, x]) => x!), y: set.rows.map(([y]) => y!) },
      (b) => (x) => set.predict(b, [x]),
      {
        initialValues: [250, 0.0005],
        damping: 1e-3,
        maxIterations: 1000,
        gradientDifference: 1e-7,
        errorTolerance: 1e-12,
        centralDifference: true,
      },
    );
    const fit = fitOf(set, [250, 0.0005]);
    for (const [j, value] of fit.values.entries())
      expect(agreement(value, other.parameterValues[j]!)).toBeGreaterThan(3);
  });

  it('solves linear sets and inverts their normal matrix alike', () => {
    const random = seededRandom(7);
    for (let trial = 0; trial < 20; trial += 1) {
      const rows = Array.from({ length: 9 }, () => [1, random(), random() * 10, random() - 0.5]);
      const measured = rows.map(() => random());
      const fit = fitLeastSquares({
        measured,
        predict: (b) => rows.map((row) => row.reduce((sum, x, j) => sum + x * b[j]!, 0)),
        start: [1, 1, 1, 1],
      });
      const a = new Matrix(rows);
      const x = solve(a, Matrix.columnVector(measured), true).to1DArray();
      const covariance = inverse(a.transpose().mmul(a)).mul(fit.standardError! ** 2);
      for (let j = 0; j < 4; j += 1) {
        expect(fit.values[j]).toBeCloseTo(x[j]!, 9);
        expect(fit.deviations[j]).toBeCloseTo(Math.sqrt(covariance.get(j, j)), 7);
      }
    }
  });
});

describe('least squares: what data cannot tell', () => {
  const points = [1, 2, 3, 4, 5];

  it('keeps a value that nothing depends on', () => {
    const fit = fitLeastSquares({
      measured: points.map((x) => 2 * x),
      predict: ([a]) => points.map((x) => a! * x),
      start: [1, 7],
    });
    expect(fit.told).toEqual([{ kind: 'fitted' }, { kind: 'no-influence' }]);
    expect(fit.values[0]).toBeCloseTo(2, 12);
    expect(fit.values[1]).toBe(7);
    expect(fit.deviations[1]).toBeUndefined();
    expect(fit.freedom).toBe(4);
  });

  it('says from what a value cannot be told apart, and fits the rest', () => {
    const fit = fitLeastSquares({
      measured: points.map((x) => 9 * x + 1),
      predict: ([a, b, c]) => points.map((x) => (a! + 2 * b!) * x + c!),
      start: [1, 1, 0],
    });
    expect(fit.told).toEqual([{ kind: 'fitted' }, { kind: 'not-apart', from: [0] }, { kind: 'fitted' }]);
    expect(fit.values).toEqual([expect.closeTo(7, 9), 1, expect.closeTo(1, 9)]);
  });

  it('counts a change below the influence asked for as none', () => {
    const problem = {
      measured: points.map((x) => 2 * x),
      predict: ([a, b]: readonly number[]) => points.map((x, i) => a! * x + 1e-4 * b! * i ** 2),
      start: [1, 1],
    };
    expect(fitLeastSquares(problem).told[1]).toEqual({ kind: 'fitted' });
    expect(fitLeastSquares({ ...problem, influence: 0.01 }).told[1]).toEqual({ kind: 'no-influence' });
  });

  it('stops at a limit and says so', () => {
    const fit = fitLeastSquares({
      measured: points.map((x, i) => 3 - x + (i % 2) / 100),
      predict: ([a, b]) => points.map((x) => a! + b! * x),
      start: [1, 1],
      least: 0,
    });
    expect(fit.told).toEqual([{ kind: 'fitted' }, { kind: 'at-limit' }]);
    expect(fit.values).toEqual([expect.closeTo(0.004, 9), 0]);
    expect(fit.deviations[1]).toBeUndefined();
  });

  it('gives no standard error without freedom', () => {
    const fit = fitLeastSquares({ measured: [4, 5], predict: ([a, b]) => [a!, a! + b!], start: [1, 1] });
    expect(fit.values).toEqual([expect.closeTo(4, 10), expect.closeTo(1, 10)]);
    expect([fit.freedom, fit.standardError, fit.deviations[0]]).toEqual([0, undefined, undefined]);
  });
});

describe('least squares: intervals', () => {
  it('cover the true value in about 95 of 100 sets of noisy data', () => {
    const random = seededRandom(11);
    const points = [0, 1, 2, 3, 4, 5, 6, 7];
    const truth = [1.4, 0.3];
    const predict = ([a, b]: readonly number[]) => points.map((x) => a! * Math.exp(-b! * x));
    const [sets, covered] = [1000, [0, 0]];
    for (let set = 0; set < sets; set += 1) {
      const measured = predict(truth).map((y) => y + 0.02 * noise(random));
      const fit = fitLeastSquares({ measured, predict, start: [1, 0.1] });
      const t = studentQuantile(0.975, fit.freedom);
      for (const j of [0, 1])
        if (Math.abs(fit.values[j]! - truth[j]!) <= t * fit.deviations[j]!) covered[j]! += 1;
    }
    // 95 % of 1000 sets is 950; three standard deviations of that count are 21.
    for (const count of covered) expect(Math.abs(count - 950)).toBeLessThan(21);
  });
});
