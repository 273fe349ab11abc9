import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/io/canonical.js';
import { readPlan } from '../../src/io/read-plan.js';
import { readSettings } from '../../src/io/read-settings.js';
import type { AbstractPlan } from '../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { told } from './told.js';

/** A plan for an abstract weldment of one part, all made up. */
const PLAN: AbstractPlan = {
  format: 'tackwright-plan',
  version: 1,
  kind: 'abstract',
  weldment: { name: 'one', digest: '0'.repeat(64) },
  settings: DEFAULT_SETTINGS,
  objective: [{ term: 'time', value: 10, bound: 10 }],
  proof: {
    outcome: 'optimal',
    scope: { parts: 1, approaches: 0, grips: 0, rests: 0, sites: 0 },
    provedTerms: ['time'],
    bestOf: 1,
    states: 2,
    policies: [],
    notChecked: [],
  },
  rulesNotApplied: [],
  warnings: [],
  cautions: [],
  stages: [{ number: 1, part: 'a', gripper: null, regrips: 0, tacks: 0, seconds: 1 }],
};

describe('a plan', () => {
  const text = canonicalText(PLAN);

  it('comes back as it was written', () => {
    const reading = readPlan(text, 'p.json');
    expect(told(reading)).toEqual([]);
    expect(reading.value).toEqual(PLAN);
  });

  it('is refused with the line when edited badly', () => {
    const line = text.split('\n').findIndex((l) => l.includes('"regrips": 0')) + 1;
    expect(told(readPlan(text.replace('"regrips": 0', '"regrips": -1'), 'p.json'))).toEqual([
      `p.json:${line}: stages[0].regrips: got -1; give at least 0`,
    ]);
    expect(told(readPlan(text.replace('"version": 1', '"version": 2'), 'p.json'))).toEqual([
      expect.stringMatching(/^p\.json:\d+: version: got 2; write version: 1$/),
    ]);
    expect(told(readPlan('{}', 'p.json'))).toEqual([
      'p.json:1: kind: is missing; add it, one of geometric, abstract',
    ]);
  });
});

describe('settings', () => {
  it('that are empty are all defaults', () => {
    expect(readSettings('', 's').value).toEqual(DEFAULT_SETTINGS);
    expect(readSettings('# nothing set\n', 's').value).toEqual(DEFAULT_SETTINGS);
    expect(readSettings('', 's').digest).toBe(readSettings('{}', 's').digest);
  });

  it('keep the defaults of what they leave out', () => {
    const { value } = readSettings('tacks: { leg: 3 }\nobjective: [time, regrips, tool-changes]\n', 's');
    expect(value).toEqual({
      ...DEFAULT_SETTINGS,
      tacks: { ...DEFAULT_SETTINGS.tacks, leg: 3 },
      objective: ['time', 'regrips', 'tool-changes'],
    });
  });

  it('are refused with all issues', () => {
    const text =
      'objective: [time, time, regrips]\nbudget: { steps: 1.5 }\nseed: -1\nreductions: { frictoin: 2, pull: 2 }\n';
    expect(told(readSettings(text, 's'))).toEqual([
      's:1: objective: got ["time", "time", "regrips"]; must name regrips, tool-changes and time once each, and may name distortion and wishes once',
      's:2: budget.steps: got 1.5; give a whole number (search steps, of each search where several are needed: repeatable)',
      's:3: seed: got -1; give at least 0',
      's:4: reductions.frictoin: unknown key `frictoin`; maybe `friction`',
      's:4: reductions.pull: got 2; give at most 1',
    ]);
  });

  it('ask for reserves that mean something, for loads that are not negative, and for an odd density', () => {
    const text = [
      'reserves: { gravity: 0.5, disturbance: 20, accident: x }',
      'loads: { torch-touch: -1, proof-pull: 0, shake: 3 }',
      'grips: { density: 4 }',
      'rests: { margin: -1, tilt: 50 }',
      'accuracy: { combine: sum, in-plane: 0 }',
    ].join('\n');
    const lines = told(readSettings(text, 's'));
    expect(lines.map((line) => line.replace(/ \(.*\)$/, ''))).toEqual([
      's:1: reserves.accident: got "x"; give a number',
      's:1: reserves.disturbance: got 20; give at most 10',
      's:1: reserves.gravity: got 0.5; give at least 1',
      's:2: loads.proof-pull: got 0; give above 0',
      expect.stringMatching(/^s:2: loads\.shake: unknown key `shake`; known here: push-share, push-least, /),
      's:2: loads.torch-touch: got -1; give at least 0',
      's:3: grips.density: got 4; must be odd, so that the middle of a face is tried',
      's:4: rests.margin: got -1; give at least 0',
      's:4: rests.tilt: got 50; give at most 45',
      's:5: accuracy.combine: got "sum"; use one of root-sum-square, arithmetic',
      's:5: accuracy.in-plane: got 0; give above 0',
    ]);
  });
});
