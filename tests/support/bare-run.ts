import type { GeometricPlan, PlanTack, Step } from '../../src/model/plan.js';
import { exploredWitness } from '../../src/rules/run-witness.js';
import { waitingAfter } from '../../src/rules/waiting.js';
import { barePlan } from './bare-plan.js';

/** A step by its kind and the name that goes with it: of a tack, a handshake, a part or a zone. */
export type Bare = readonly [Step['do'], string?];

export interface BareProgram {
  readonly robot: string;
  readonly duty: 'handle' | 'weld';
  readonly list: readonly Bare[];
}

const NOWHERE: PlanTack['torch']['start'] = { at: [0, 0, 0], turn: [0, 0, 0] };
const STILL: PlanTack['torch']['clear'] = [0, 0, 0, 0, 0, 0];

const tack = (id: string, robot: string): PlanTack => ({
  robot,
  ...{
    id,
    joint: 'J1',
    seam: 'J1.1',
    start: 0,
    length: 30,
    leg: 4,
    order: 1,
    strength: 9000,
    position: 'PB',
  },
  ...{ codeStrength: 0, codeReason: 'too-short' as const, effectiveLength: 26 },
  hot: { seconds: 2, temperature: 300, factor: 1 },
  phase: id.startsWith('S') ? 'securing' : 'completing',
  torch: { start: NOWHERE, end: NOWHERE, clear: STILL, joints: STILL, jointsEnd: STILL, leave: STILL },
});

function stepOf([kind, name]: Bare, n: number): Step {
  const base = { n, stage: 2, start: 0, end: 0 };
  switch (kind) {
    case 'signal':
      return { ...base, do: kind, handshake: name! };
    case 'await':
      return { ...base, do: kind, handshake: name!, at: 'home' };
    // What steps have beyond this is not judged here.
    case 'tack':
      return { ...base, do: kind, tack: name! } as Step;
    case 'hold':
    case 'let-go':
      return { ...base, do: kind, part: name ?? 'wall' } as Step;
    default:
      return { ...base, do: kind, zone: name ?? 'work' } as Step;
  }
}

/**
 * Programs of a plan with one part, `wall`, held after the first: only what orders the robots, every step of stage 2
 * and of no length. Tacks whose names begin with S are securing. The handshakes are those that the steps mention.
 */
export function bareRun(programs: readonly BareProgram[]): GeometricPlan {
  const plan = barePlan('base', 'wall');
  plan.programs = programs.map(({ robot, duty, list }) => ({
    robot,
    duty,
    steps: list.map((bare, i) => stepOf(bare, i + 1)),
  }));
  const named = (kind: Bare[0]): string[] =>
    programs.flatMap(({ list }) => list.flatMap(([what, name]) => (what === kind ? [name!] : [])));
  plan.stages[1]!.tacks = programs.flatMap(({ robot, list }) =>
    [...new Set(list.flatMap(([what, name]) => (what === 'tack' ? [name!] : [])))].map((id) =>
      tack(id, robot),
    ),
  );
  const ids = [...new Set([...named('signal'), ...named('await')])];
  const placeOf = (kind: 'signal' | 'await', id: string): { robot: string; step: number } => {
    const { robot, list } = programs.find((one) =>
      one.list.some(([what, name]) => what === kind && name === id),
    ) ?? {
      robot: programs[0]!.robot,
      list: [],
    };
    return { robot, step: list.findLastIndex(([what, name]) => what === kind && name === id) + 1 || 1 };
  };
  plan.handshakes = ids.map((id) => {
    const to = placeOf('await', id);
    const { duty, steps } = plan.programs.find(({ robot }) => robot === to.robot)!;
    return {
      ...{ id, name: id, kind: 'single-use' as const, from: placeOf('signal', id), to },
      ...{ meaning: '', guards: '', waiting: waitingAfter(duty, steps.slice(0, to.step - 1)).waiting },
      ...{ timeLimit: 60, reaction: '' },
    };
  });
  plan.handshakeSet = {
    ...plan.handshakeSet,
    required: ids.length,
    afterReduction: ids.length,
    afterResynchronisation: ids.length,
  };
  plan.safety.witness = exploredWitness(plan);
  return plan;
}
