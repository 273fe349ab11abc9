import { seededRandom } from '../../src/base/random.js';
import type { BuildPattern, PatternStage } from '../../src/model/build-pattern.js';
import {
  familyResultSchema,
  type FamilyResult,
  type Limit,
  type MatrixField,
  type PlanFigures,
} from '../../src/model/family-result.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';

const PARTS = ['base', 'cheek-left', 'web', 'cheek-right', 'saddle-left', 'saddle-right', 'stop'];

const stage = (part: string, over: Partial<PatternStage> = {}): PatternStage => ({
  ...{ part, robot: 'handler', turn: 0, regrips: [] },
  grip: { gripper: 'magnet-wide', face: '+z', turn: 90, place: { share: [0, 0.5] } },
  ...{ held: part !== 'base', alsoHeld: null },
  handshakes:
    part === 'base'
      ? []
      : ['held', 'secured', 'away'].map((state) => ({
          state,
          from: state === 'secured' ? 'welder' : 'handler',
          to: state === 'secured' ? 'handler' : 'welder',
        })),
  ...over,
});

const pattern = (id: string, from: string, over: Partial<PatternStage> = {}): BuildPattern => ({
  ...{ id, from },
  stages: PARTS.map((part, i) =>
    stage(
      part,
      i === 2
        ? {
            ...over,
            grip: {
              gripper: 'magnet-small',
              face: '-y',
              group: 'inner',
              turn: 0,
              place: { over: 'centre-of-mass' },
            },
          }
        : {},
    ),
  ),
});

const regrip = {
  grip: { gripper: 'magnet-small', face: '+y', turn: 0, place: { at: [12.5, -4] as [number, number] } },
  to: 'regrip',
  rest: '-z',
} as const;

const figures = (variant: string, which: string, regrips: number, time: number): PlanFigures => ({
  objective: [
    { term: 'regrips', value: regrips, bound: regrips },
    { term: 'tool-changes', value: 1, bound: 1 },
    { term: 'distortion', value: 0, bound: 0 },
    { term: 'time', value: time, bound: time - 40 },
  ],
  ...{ regrips, toolChanges: 1, seconds: time / 10, tacks: 22, distortion: 0.62 },
  leastReserve: {
    stage: 4,
    state: 'held',
    case: 'torch touch J2.1@10',
    reserve: 1.834,
    required: 1.5,
    weakest: 'pad 2 on web',
  },
  proved: ['regrips', 'tool-changes'],
  file: `variants/${variant}.${which}.plan.json`,
});

const REACH: Limit = {
  ...{ code: 'joint-5-limit', subjects: ['web', 'handler'], value: 131, limit: 125 },
  text: 'the pattern asks web by magnet-small on -y: joint 5 beyond its limit, 131 deg, limit 125 deg',
};
const HEAVY: Limit = {
  ...{ code: 'payload', subjects: ['base', 'handler'], value: 24.6, limit: 16 },
  text: 'base weighs 24.6 kg with its gripper, and handler carries at most 16 kg',
};

interface Ways {
  readonly P1: boolean;
  readonly P2: boolean;
  readonly P3: boolean;
}

/** What builds a stand of this height and thickness: our own invention, as are all its figures. */
const ways = (height: number, thick: number): Ways => ({
  P1: height <= 230 && thick < 12,
  P2: height >= 200 && thick < 12,
  P3: height <= 180 && thick < 10,
});

/** A result made by hand, of a family of roller stands: twelve variants, one of them impossible, two ranges. */
export function familyResult(): FamilyResult {
  const random = seededRandom(7);
  const heights = [160, 200, 240, 260];
  const table = [6, 8, 10].flatMap((thick) =>
    heights.map((height) => ({ name: `h${height}-t${thick}`, height, thick })),
  );
  table[11] = { name: 'h260-t14', height: 260, thick: 14 };
  const made = [150, 260].flatMap((height) =>
    [6, 12].map((thick) => ({ name: `corner ${height} ${thick}`, height, thick })),
  );
  const matrix: MatrixField[] = [];
  const variants = [...table, ...made].map(({ name, height, thick }, i): FamilyResult['variants'][number] => {
    const fits = ways(height, thick);
    const any = Object.values(fits).some(Boolean);
    const time = 3000 + height * 3 + Math.floor(random() * 80);
    for (const id of ['P1', 'P2', 'P3'] as const)
      matrix.push({
        ...{ variant: name, pattern: id, fits: fits[id] },
        figures: fits[id] ? figures(name, id, id === 'P2' ? 2 : 1, time + (id === 'P3' ? 0 : 25)) : null,
        extra: fits[id]
          ? [
              { term: 'regrips', value: id === 'P2' && fits.P1 ? 1 : 0 },
              { term: 'time', value: id === 'P3' ? 0 : 25 },
            ]
          : null,
        parameters: fits[id]
          ? PARTS.map((part, at) => ({
              ...{ stage: at + 1, of: at + 1, part },
              grips: [{ position: [0, height / 8 - at] as [number, number], taken: POSE, put: POSE }],
              ...{
                alsoHeld: null,
                approach: { direction: [0, 0, -1] as [number, number, number], distance: 80 },
              },
              tacks:
                at === 0
                  ? []
                  : (['securing', 'securing', 'completing'] as const).map((phase, t) => ({
                      ...{
                        id: `J${at}.1@${10 + t * 50}`,
                        robot: 'welder',
                        joint: `J${at}`,
                        seam: `J${at}.1`,
                      },
                      ...{ start: 10 + t * 50, length: 40, leg: 4, phase },
                    })),
              proofPull: at === 3 ? 50 : null,
            }))
          : null,
        reasons: fits[id] ? [] : thick >= 12 ? [HEAVY] : [REACH],
      });
    return {
      ...{
        name,
        source: i < table.length ? 'variant' : 'corner',
        values: { height, thick },
        parts: PARTS.length,
      },
      weldmentFile: `variants/${name}.weldment.json`,
      outcome: any ? 'planned' : 'impossible',
      own: any ? figures(name, 'own', fits.P1 ? 1 : 2, time) : null,
      searched: true,
      leastSaving: 0,
      reasons: any ? [] : [HEAVY],
    };
  });
  const names = (keep: (one: (typeof table)[number]) => boolean): string[] =>
    table.filter(keep).map(({ name }) => name);
  return familyResultSchema.parse({
    ...{ format: 'tackwright-family', version: 1 },
    family: { name: 'roller-stand', digest: 'f'.repeat(64) },
    cell: { name: 'twin-bench', digest: 'c'.repeat(64) },
    settings: DEFAULT_SETTINGS,
    parameters: [
      { name: 'height', unit: 'mm', low: 150, high: 260 },
      { name: 'thick', unit: 'mm', low: 6, high: 12 },
    ],
    variants,
    patterns: [
      pattern('P1', 'h160-t8', { regrips: [regrip] }),
      pattern('P2', 'h240-t6', { regrips: [regrip, regrip], turn: 90 }),
      pattern('P3', 'h160-t6'),
    ],
    matrix,
    covering: {
      chosen: [
        { pattern: 'P1', variants: names(({ height, thick }) => ways(height, thick).P1) },
        {
          pattern: 'P2',
          variants: names(({ height, thick }) => ways(height, thick).P2 && !ways(height, thick).P1),
        },
      ],
      extra: [
        { term: 'regrips', value: 0 },
        { term: 'time', value: 275 },
      ],
      uncovered: names(({ height, thick }) => !Object.values(ways(height, thick)).some(Boolean)),
      proof: {
        ...{ outcome: 'least', patterns: 3, variants: 11, bound: 2, by: 'variants-apart' },
        ...{ apart: ['h160-t6', 'h240-t6'], examined: 4, costProved: true, open: 0 },
      },
    },
    envelope: {
      resolution: { height: 5, thick: 1 },
      ...{ others: {}, seed: 1 },
      samples: [
        ...made.map(({ height, thick }) => ({ source: 'corner', height, thick })),
        { source: 'middle', height: 205, thick: 9 },
        ...Array.from({ length: 10 }, () => ({
          source: 'sample',
          height: 150 + Math.floor(random() * 23) * 5,
          thick: 6 + Math.floor(random() * 7),
        })),
      ].map(({ source, height, thick }) => ({
        source,
        values: { height, thick },
        patterns: (['P1', 'P2'] as const).map((id) => {
          const fits = ways(height, thick)[id];
          return { pattern: id, fits, reasons: fits ? [] : [thick >= 12 ? HEAVY : REACH] };
        }),
      })),
      boundaries: [
        {
          pattern: 'P1',
          works: { height: 230, thick: 9 },
          fails: { height: 235, thick: 9 },
          alone: 'planned',
          reasons: [REACH],
        },
        {
          pattern: 'P1',
          works: { height: 205, thick: 11 },
          fails: { height: 205, thick: 12 },
          alone: 'impossible',
          reasons: [HEAVY],
        },
        {
          pattern: 'P2',
          works: { height: 200, thick: 9 },
          fails: { height: 195, thick: 9 },
          alone: 'planned',
          reasons: [REACH],
        },
      ],
    },
    warnings: [
      'h160-t6: welder has no `cleaning`: its nozzle is cleaned by hand, after every 20 arcs at the latest (our choice)',
    ],
    cautions: [
      'Held parts fall when power, air or magnetism is lost; nobody may be under or beside a held part.',
      'Arcs burn, blind and give off fumes; robots crush. Guarding, stop functions and risk assessment follow ISO 10218 and local rules.',
    ],
  });
}

const POSE = { at: [0, 0, 500] as [number, number, number], turn: [0, 0, 0] as [number, number, number] };
