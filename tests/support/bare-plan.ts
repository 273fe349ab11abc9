import type { GeometricPlan, Handling, HandshakeSet, Stage } from '../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import { unpredicted } from '../../src/planning/distortion.js';

const NOWHERE = { at: [0, 0, 0], turn: [0, 0, 0] } as const;
const STILL = [0, 0, 0, 0, 0, 0] as const;

const handling = (gripper: string): Handling => ({
  grip: { gripper, face: '+z', position: [0, 0], turn: 0 },
  take: {
    from: 'infeed',
    rest: '-z',
    part: structuredClone(NOWHERE) as unknown as Handling['take']['part'],
    approach: [...STILL],
    joints: [...STILL],
    lifted: [...STILL],
  },
  put: {
    to: 'place',
    rest: null,
    part: structuredClone(NOWHERE) as unknown as Handling['put']['part'],
    approach: [...STILL],
    joints: [...STILL],
    retreat: [...STILL],
  },
  carried: { case: 'gravity', required: 1.2, reserve: 10 },
});

/** A stage that brings a part straight down, by a gripper that need not fit; all else is empty. */
export const bareStage = (part: string, index: number, gripper = 'wide'): Stage => ({
  number: index + 1,
  part,
  robot: 'handler',
  handling: [handling(gripper)],
  approach: { direction: [0, 0, -1], distance: 500 },
  held: null,
  stands: index === 0 ? 'clamped' : 'free-standing',
  powerLoss: [],
  proofPull: null,
  remedies: [],
  accuracy: [],
  tacks: [],
  rework: [],
  reserves: [],
  distortion: { steps: [{ after: `join ${part}`, moved: [] }], openings: [] },
});

/** Of handshakes that nobody claims to be few. */
export const bareHandshakeSet = (handshakes: number): HandshakeSet => ({
  required: handshakes,
  afterReduction: handshakes,
  afterResynchronisation: handshakes,
  minimality: 'none',
  protocol: [],
});

/** A plan of the schema that says nothing but the order of its parts: for rules that look at little. */
export const barePlan = (...parts: readonly string[]): GeometricPlan => ({
  format: 'tackwright-plan',
  version: 1,
  kind: 'geometric',
  weldment: { name: 'bare', digest: '' },
  cell: { name: 'bare', digest: '' },
  settings: structuredClone(DEFAULT_SETTINGS),
  objective: [],
  proof: {
    outcome: 'optimal',
    scope: { parts: 0, approaches: 0, grips: 0, rests: 0, sites: 0 },
    provedTerms: [],
    bestOf: 0,
    states: 0,
    policies: [],
    notChecked: [],
  },
  rulesNotApplied: [],
  warnings: [],
  cautions: [],
  joints: [],
  stages: parts.map((part, i) => bareStage(part, i)),
  frames: { bases: [], tools: [], works: [] },
  handshakes: [],
  handshakeSet: bareHandshakeSet(0),
  programs: [],
  timeline: { makespan: 0, bound: 0, choices: 0, activities: [] },
  distortion: unpredicted(DEFAULT_SETTINGS),
  safety: {
    properties: [],
    witness: { robots: 0, states: 0, complete: false, reduction: 'none' },
    faults: [],
    faultRows: 0,
    dropZones: [],
    notCovered: '',
  },
});
