import type { Activity, GeometricPlan, PlanReserve, PlanTack, Stage } from '../../src/model/plan.js';
import { barePlan, bareStage } from '../support/bare-plan.js';

const tack = (order: number, phase: PlanTack['phase']): PlanTack => {
  const pose = { at: [0, 0, 0], turn: [0, 0, 0] } as {
    at: [number, number, number];
    turn: [number, number, number];
  };
  const still: PlanTack['torch']['clear'] = [0, 0, 0, 0, 0, 0];
  const torch = { start: pose, end: pose, clear: still, joints: still, jointsEnd: still, leave: still };
  return {
    ...{
      id: `J1.1@${order}`,
      robot: 'welder',
      joint: 'J1',
      seam: 'J1.1',
      start: 10 * order,
      length: 32,
      leg: 4,
      order,
      phase,
    },
    ...{ codeStrength: 0, codeReason: 'too-short' as const, effectiveLength: 26 },
    hot: { seconds: 2, temperature: 300, factor: 1 },
    ...{ strength: 9000, position: 'PB' as const, torch },
  };
};

export const reserve = (
  state: PlanReserve['state'],
  load: string,
  value: number,
  weakest = '',
  required = 1.5,
): PlanReserve => ({ state, case: load, reserve: value, required, weakest });

const activity = (robot: string, stage: number, what: string, start: number, end: number): Activity => ({
  robot,
  stage,
  what,
  start,
  end,
  critical: true,
});

function held(stage: Stage): Stage {
  const again = structuredClone(stage.handling[0]!);
  stage.handling[0]!.grip.face = '-z';
  stage.handling[0]!.put.to = 'regrip';
  return {
    ...stage,
    handling: [...stage.handling, again],
    held: 'handler',
    stands: 'tacked',
    powerLoss: [{ part: 'wall', gripper: 'wide', kind: 'stored-seconds', seconds: null, zone: null }],
    tacks: [tack(1, 'securing'), tack(2, 'securing'), tack(3, 'completing')],
    reserves: [
      reserve('held', 'gravity', 10, '', 1.2),
      reserve('held', 'torch touch J1.1@1 along', 1.8358, 'pad 2 on wall'),
      reserve('let-go', 'let-go pull', 2.75, 'tack between base and wall'),
    ],
  };
}

/** Two parts, one regrip, three tacks, half a minute: small enough to check every line by eye. */
export const smallPlan = (): GeometricPlan => ({
  ...barePlan(),
  weldment: { name: 'corner', digest: '' },
  cell: { name: 'bench', digest: '' },
  objective: [
    { term: 'regrips', value: 1, bound: 1 },
    { term: 'tool-changes', value: 0, bound: 0 },
    { term: 'time', value: 1200, bound: 1000 },
  ],
  proof: {
    outcome: 'feasible',
    scope: { parts: 2, approaches: 3, grips: 40, rests: 12, sites: 9 },
    policies: ['the fewest tacks on each seam'],
    provedTerms: ['regrips', 'tool-changes'],
    bestOf: 4,
    states: 11,
    notChecked: ['distortion'],
  },
  joints: [
    { id: 'J1', between: ['base', 'wall'], type: 'fillet', leg: 4, origin: 'given', seams: [] },
    { id: 'J2', between: ['base', 'wall'], type: 'lap', leg: 4, origin: 'proposed', seams: [] },
  ],
  stages: [
    { ...bareStage('base', 0), reserves: [reserve('let-go', 'gravity', 10, '', 1.2)] },
    held(bareStage('wall', 1)),
  ],
  handshakes: [],
  programs: [
    { robot: 'handler', duty: 'handle', steps: [] },
    { robot: 'welder', duty: 'weld', steps: [] },
  ],
  timeline: {
    makespan: 120,
    bound: 120,
    choices: 0,
    activities: [
      activity('handler', 1, 'fetch', 0, 20),
      activity('handler', 1, 'clamp', 20, 20.2),
      activity('handler', 2, 'fetch', 20.2, 60),
      activity('handler', 2, 'wait', 60, 100),
      activity('handler', 2, 'dance', 100, 110),
      activity('welder', 2, 'wait', 0, 60),
      activity('welder', 2, 'tack', 60, 120),
    ],
  },
  safety: {
    properties: ['no deadlock'],
    witness: { robots: 2, states: 1234, complete: true, reduction: 'none' },
    ...{ faults: [], faultRows: 0, dropZones: [], notCovered: 'lost signals' },
  },
  cautions: ['Held parts fall.'],
});
