import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { seededRandom } from '../../src/base/random.js';
import { canonicalText } from '../../src/io/canonical.js';
import { readSettings } from '../../src/io/read-settings.js';
import type { Calibration, FactorName } from '../../src/model/calibration.js';
import { issueLine } from '../../src/model/issue.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { calibratedSettings, calibrationText } from '../../src/report/calibration-text.js';
import { calibrate } from '../../src/session/calibrate.js';
import { noise } from '../support/noise.js';
import { benchSources, tackedPlan } from '../support/tacked-plan.js';

// Our own invention: an upright plate and a rib on a base, with more tacks on one side than on the other.
const sources = benchSources({
  weldment: 'upright-plate',
  parts: {
    base: { plate: { length: 320, width: 220, thickness: 10 }, at: [0, 0, 5] },
    plate: { plate: { length: 200, width: 140, thickness: 8 }, at: [0, 0, 80], turn: [-90, 0, 0] },
    rib: { plate: { length: 80, width: 80, thickness: 6 }, at: [40, 44, 50], turn: [90, 0, 90] },
  },
  joints: [
    { between: ['base', 'plate'], sides: 'both', leg: 4 },
    { between: ['base', 'rib'], sides: 'both', leg: 4 },
  ],
  first: 'base',
});

/** Points of parts and moments: what the rows of a file of measurements begin with. */
const POINTS = [
  ['J1.1@10', 'plate', 'y', '0,0,150'],
  ['2', 'plate', 'y', '90,0,150'],
  ['2', 'plate', 'y', '-90,0,150'],
  ['2', 'plate', 'z', ',,'],
  ['2', 'plate', 'x', '0,0,150'],
  ['3', 'rib', 'x', '40,44,90'],
  ['3', 'rib', 'x', '40,80,90'],
  ['3', 'rib', 'y', ',,'],
  ['3', 'rib', 'z', ',,'],
  ['3', 'plate', 'y', '0,0,150'],
] as const;

const HEAD = 'step,part,direction,at_x,at_y,at_z,millimetres';

const fileOf = (values: readonly number[]): string =>
  [HEAD, ...POINTS.map(([step, part, along, at], i) => [step, part, along, at, values[i]].join(','))].join(
    '\n',
  );

describe('calibration', () => {
  let plan: GeometricPlan;
  beforeAll(async () => {
    plan = tackedPlan(sources, await loadLinearPrograms(), [
      ['base'],
      ['plate', { seam: 'J1.1', start: 10 }, { seam: 'J1.1', start: 150 }, { seam: 'J1.2', start: 90 }],
      ['rib', { seam: 'J2.1', start: 10 }, { seam: 'J2.1', start: 45 }],
    ]);
  });

  const outcomeOf = (text: string, of: GeometricPlan = plan) =>
    calibrate({
      ...sources,
      measurements: { text, name: 'floor/m.csv' },
      plan: { text: canonicalText(of), name: 'p.json' },
    });

  function calibrationOf(text: string): Calibration {
    const outcome = outcomeOf(text);
    if (outcome.kind !== 'calibrated') throw new Error(outcome.issues.map(issueLine).join('\n'));
    return outcome.calibration;
  }

  const linesOf = (text: string, of?: GeometricPlan): string[] => {
    const outcome = outcomeOf(text, of);
    return outcome.kind === 'bad-input' ? outcome.issues.map(issueLine) : [];
  };

  /** What the replay predicts for the points with some factors: the `before` of a plan made with them. */
  function predicted(factors: Partial<Record<FactorName, number>>): readonly number[] {
    const other = structuredClone(plan);
    Object.assign(other.settings.distortion, factors);
    const outcome = outcomeOf(fileOf(POINTS.map(() => 0)), other);
    if (outcome.kind !== 'calibrated') throw new Error(outcome.issues.map(issueLine).join('\n'));
    return outcome.calibration.measurements.map(({ before }) => before);
  }

  const factorOf = ({ factors }: Calibration, name: FactorName) => factors.find((one) => one.name === name)!;

  it('finds factors again that exact data were made with', () => {
    const found = calibrationOf(fileOf(predicted({ transverse: 1.3, angular: 0.7 })));
    expect(factorOf(found, 'transverse')).toMatchObject({ before: 1, told: { kind: 'fitted' } });
    expect(factorOf(found, 'transverse').value).toBeCloseTo(1.3, 4);
    expect(factorOf(found, 'angular').value).toBeCloseTo(0.7, 4);
    expect(found.standardError).toBeLessThan(1e-5);
    expect(found.settled).toBe(true);
  });

  it('finds them within its intervals when the data are noisy, about 95 times of 100', () => {
    const random = seededRandom(5);
    const truth = { transverse: 1.3, angular: 0.7 };
    const exact = predicted(truth);
    const [sets, covered] = [40, { transverse: 0, angular: 0 }];
    for (let set = 0; set < sets; set += 1) {
      const found = calibrationOf(fileOf(exact.map((mm) => mm + 0.02 * noise(random))));
      for (const name of ['transverse', 'angular'] as const) {
        const { interval } = factorOf(found, name);
        if (interval![0] <= truth[name] && truth[name] <= interval![1]) covered[name] += 1;
      }
    }
    // 38 of 40 are expected; 34 are three standard deviations less.
    expect(covered.transverse).toBeGreaterThanOrEqual(34);
    expect(covered.angular).toBeGreaterThanOrEqual(34);
  });

  it('keeps and reports a factor that no measured point depends on', () => {
    const found = calibrationOf(fileOf(predicted({ transverse: 1.1 })));
    expect(factorOf(found, 'longitudinal')).toMatchObject({
      ...{ before: 1, value: 1, told: { kind: 'no-influence' }, interval: undefined },
    });
    expect(calibrationText(found)).toMatch(/longitudinal +1\.000 +1\.000 +- +kept: no measured point/);
  });

  it('gives no interval where there are as many measurements as factors', () => {
    const [head, ...rows] = fileOf(predicted({ transverse: 1.2 })).split('\n');
    const found = calibrationOf([head, rows[1], rows[6]].join('\n'));
    expect([found.freedom, found.standardError]).toEqual([0, undefined]);
    expect(calibrationText(found)).toContain(
      'no standard error, since there are no more measurements than factors',
    );
  });

  it('keeps a factor that one measurement cannot tell from another', () => {
    const [head, , row] = fileOf(predicted({ transverse: 1.2 })).split('\n');
    const found = calibrationOf([head, row].join('\n'));
    expect(found.factors.map(({ told }) => told.kind)).toEqual(['fitted', 'no-influence', 'not-apart']);
    expect(calibrationText(found)).toContain(
      'kept: what angular does to these points, transverse does as well',
    );
  });

  it('tells the longitudinal factor from bows of slender members', async () => {
    const beam = benchSources({
      weldment: 'beam',
      parts: {
        sole: { plate: { length: 700, width: 60, thickness: 10 }, at: [0, 0, 5] },
        web: { plate: { length: 700, width: 60, thickness: 8 }, at: [0, 0, 40], turn: [90, 0, 0] },
      },
      joints: [{ between: ['sole', 'web'], sides: 'both', leg: 4 }],
      first: 'sole',
    });
    const tacks = ['J1.1', 'J1.2'].flatMap((seam) => [10, 330, 650].map((start) => ({ seam, start })));
    const tacked = tackedPlan(beam, await loadLinearPrograms(), [['sole'], ['web', ...tacks]]);
    const fit = (text: string, longitudinal = 1) => {
      const of = structuredClone(tacked);
      of.settings.distortion.longitudinal = longitudinal;
      const plan = { text: canonicalText(of), name: 'p.json' };
      return calibrate({ ...beam, measurements: { text, name: 'm.csv' }, plan });
    };
    const rows = (mm: number) => `step,part,direction,millimetres\n2,web,bow,${mm}\n2,sole,bow,${mm}`;
    const [first, second] = [fit(rows(0)), fit(rows(0), 2)].map((outcome) => {
      if (outcome.kind !== 'calibrated') throw new Error(outcome.issues.map(issueLine).join('\n'));
      return outcome.calibration.measurements[0]!.before;
    });
    expect(first).toBeGreaterThan(0.01);
    expect(second).toBeCloseTo(2 * first!, 9);
    const outcome = fit(rows(1.7 * first!));
    if (outcome.kind !== 'calibrated') throw new Error(outcome.issues.map(issueLine).join('\n'));
    expect(factorOf(outcome.calibration, 'longitudinal').value).toBeCloseTo(1.7, 4);
    expect(factorOf(outcome.calibration, 'angular').told.kind).toBe('no-influence');
    const early = fit('step,part,direction,millimetres\n1,sole,bow,0.1');
    expect(early.kind === 'bad-input' && early.issues.map(issueLine)).toEqual([
      'm.csv:2: direction: a bow is predicted for the whole tack-up and in the middle only; give step 2 and no place',
    ]);
    const signed = fit('step,part,direction,millimetres\n2,sole,bow,-0.1');
    expect(signed.kind === 'bad-input' && signed.issues.map(issueLine)).toEqual([
      'm.csv:2: millimetres: a bow is predicted by its size alone; write it without its sign',
    ]);
  });

  it('writes settings that are read again, with where the factors come from', () => {
    const found = calibrationOf(fileOf(predicted({ transverse: 1.3, angular: 0.7 })));
    const { value, issues } = readSettings(calibratedSettings(found), 's.yaml');
    expect(issues).toEqual([]);
    expect(value).toEqual(found.settings);
    expect(value!.distortion).toMatchObject({
      transverse: expect.closeTo(1.3, 4),
      longitudinal: 1,
      'arm-stiffness': 500,
      origin: 'fitted to 10 measurements in m.csv: transverse 1.3 +- 0, angular 0.7 +- 0',
    });
  });

  it('refuses measurements that the plan does not know, one line each', () => {
    const rows = [
      '9,plate,x,,,,1',
      'J1.1@11,plate,x,,,,1',
      '1,plate,x,,,,1',
      '2,palte,x,,,,1',
      '2,plate,x,0,0,400,1',
    ];
    expect(linesOf([HEAD, ...rows].join('\n'))).toEqual([
      'floor/m.csv:2: step: the plan has no step "9"; give the number of a stage, 1 to 3, a tack, or a step as stage.distortion of the plan names it',
      'floor/m.csv:3: step: the plan has no step "J1.1@11"; did you mean J1.1@10?',
      'floor/m.csv:4: part: "plate" is not in place yet after step "1"; name a later step',
      'floor/m.csv:5: part: there is no part "palte"; did you mean plate?',
      'floor/m.csv:6: at_x: the point is more than 20 mm outside of "plate"; give its nominal place in the weldment frame',
    ]);
  });

  it('refuses data that nothing can be learnt from, and a plan for other files', () => {
    expect(linesOf('step,part,direction,millimetres\n1,base,x,0')).toEqual([
      'floor/m.csv: no factor can be told from these points: none moves them, or what one does others do as well; measure several points that tacks move, near seams and far from them, after the tacks are laid',
    ]);
    const other = structuredClone(plan);
    other.weldment.name = 'another';
    expect(linesOf(fileOf(POINTS.map(() => 0)), other)).toEqual([
      expect.stringMatching(
        /^p\.json: weldment: the plan was made for "another" .*; give the files that the plan was made for$/,
      ),
    ]);
  });
});
