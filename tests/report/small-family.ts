import type { BuildPattern, PatternStage } from '../../src/model/build-pattern.js';
import type { FamilyResult, Limit, MatrixField, PlanFigures } from '../../src/model/family-result.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';

const grip = { gripper: 'wide', face: '+z', turn: 0, place: { over: 'centre-of-mass' } } as const;
const base: PatternStage = {
  ...{
    part: 'base',
    robot: 'handler',
    turn: 0,
    regrips: [],
    grip,
    held: false,
    alsoHeld: null,
    handshakes: [],
  },
};
const web: PatternStage = {
  ...base,
  ...{ part: 'web', regrips: [{ grip: { ...grip, face: '-x' }, to: 'regrip', rest: '-z' }], held: true },
  handshakes: [{ state: 'held', from: 'handler', to: 'welder' }],
};

const figures = (regrips: number, tenths: number): PlanFigures => ({
  objective: [
    { term: 'regrips', value: regrips, bound: regrips },
    { term: 'time', value: tenths, bound: 0 },
  ],
  ...{ regrips, toolChanges: 0, seconds: tenths / 10, tacks: 8, distortion: null },
  leastReserve: {
    ...{ stage: 2, state: 'let-go', case: 'push', reserve: 1.8, required: 1.5, weakest: 'tack 3' },
  },
  ...{ proved: ['regrips'], file: null },
});
const limit = (text: string): Limit => ({ code: 'payload', subjects: ['web'], value: 21, limit: 16, text });

const fits = (variant: string, pattern: string, extra: number): MatrixField => ({
  ...{ variant, pattern, fits: true, figures: figures(1, 1200 + extra), parameters: [], reasons: [] },
  extra: [
    { term: 'regrips', value: 0 },
    { term: 'time', value: extra },
  ],
});
const fails = (variant: string, pattern: string, text: string): MatrixField => ({
  ...{ variant, pattern, fits: false, figures: null, extra: null, parameters: null, reasons: [limit(text)] },
});
const pattern = (id: string, from: string, stages: PatternStage[]): BuildPattern => ({ id, from, stages });

const variant = (name: string, height: number): FamilyResult['variants'][number] => ({
  ...{ name, source: 'variant', values: { height, ribbed: false }, parts: 2, weldmentFile: null },
  ...{ outcome: 'planned', own: figures(1, 1200), searched: true, leastSaving: 0, reasons: [] },
});

/** Four variants, invented: two patterns build three of them, and the last cannot be built. */
export const smallFamily = (): FamilyResult => ({
  ...{ format: 'tackwright-family', version: 1 },
  family: { name: 'stand', digest: 'a' },
  cell: { name: 'bench', digest: 'b' },
  settings: DEFAULT_SETTINGS,
  parameters: [{ name: 'height', unit: 'mm', low: 100, high: 300 }, { name: 'ribbed' }],
  variants: [
    variant('low', 100),
    variant('mid', 200),
    variant('high', 300),
    {
      ...{ ...variant('huge', 900), outcome: 'impossible', own: null },
      reasons: [limit('web weighs 21 kg, handler carries 16 kg')],
    },
    { ...variant('middle', 200), source: 'middle' },
  ],
  patterns: [pattern('P1', 'low', [base, web]), pattern('P2', 'high', [web, base])],
  matrix: [
    fits('low', 'P1', 0),
    fits('mid', 'P1', 25),
    fails('high', 'P1', 'the pattern asks that web is held, which no gripper reaches'),
    fails('low', 'P2', 'web does not stand without base'),
    fails('mid', 'P2', 'web does not stand without base'),
    fits('high', 'P2', 0),
    fails('huge', 'P1', 'web weighs 21 kg, handler carries 16 kg'),
    fails('huge', 'P2', 'web weighs 21 kg, handler carries 16 kg'),
  ],
  covering: {
    chosen: [
      { pattern: 'P1', variants: ['low', 'mid'] },
      { pattern: 'P2', variants: ['high'] },
    ],
    extra: [
      { term: 'regrips', value: 0 },
      { term: 'time', value: 25 },
    ],
    uncovered: ['huge'],
    proof: {
      ...{ outcome: 'least', patterns: 2, variants: 4, bound: 2 },
      ...{ by: 'variants-apart', apart: ['low', 'high'], examined: 3, costProved: true, open: 0 },
    },
  },
  envelope: {
    ...{ resolution: { height: 5 }, others: { ribbed: false }, seed: 1 },
    samples: [
      {
        ...{ source: 'corner', values: { height: 100, ribbed: false } },
        patterns: [
          { pattern: 'P1', fits: true, reasons: [] },
          { pattern: 'P2', fits: false, reasons: [limit('no reach')] },
        ],
      },
      {
        ...{ source: 'sample', values: { height: 240, ribbed: false } },
        patterns: [{ pattern: 'P1', fits: false, reasons: [limit('no reach')] }],
      },
    ],
    boundaries: [
      {
        ...{ pattern: 'P1', works: { height: 230, ribbed: false }, fails: { height: 235, ribbed: false } },
        alone: 'planned',
        reasons: [limit('no gripper reaches web')],
      },
    ],
  },
  ...{ warnings: [], cautions: ['Held parts fall when power is lost.'] },
});
