import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import {
  axisZ,
  compose,
  fromAxes,
  inverse,
  multiply,
  place,
  rotate,
  translate,
  turnAbout,
  type Pose,
} from '../../src/geometry/pose.js';
import { along, cross, negate, scale, subtract, unit, type Vec3 } from '../../src/geometry/vector.js';
import { strokes } from '../../src/kinematics/strokes.js';
import type { Cell, Handler, Welder } from '../../src/model/cell.js';
import { temporaryStrength, throat } from '../../src/mechanics/tack-strength.js';
import { finalPose, gripFlange, lyingPose, torchFlange } from '../../src/model/placement.js';
import type {
  GeometricPlan,
  Handling,
  Handshake,
  PlanGrip,
  PlanPose,
  PlanTack,
  Stage,
} from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { DEFAULT_SETTINGS, type Settings } from '../../src/model/settings.js';
import type { Part, Weldment } from '../../src/model/weldment.js';
import { judgedReserves } from '../../src/rules/judged-reserves.js';
import type { RuleContext } from '../../src/rules/rule.js';
import { testCell } from './cell.js';
import { standJoints, standWeldment } from './stand-weldment.js';
import { degrees, StepWriter, timed, type Six } from './step-writer.js';

const UP: Vec3 = [0, 0, 1];
const DEGREE = Math.PI / 180;

const rounded = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits;

/** A pose as a plan writes it. */
export function planPose({ at, turn }: Pose): PlanPose {
  const pitch = Math.asin(Math.min(1, Math.max(-1, -turn[6])));
  const flat = Math.abs(turn[6]) > 1 - 1e-12;
  const roll = flat ? 0 : Math.atan2(turn[7], turn[8]);
  const yaw = flat ? Math.atan2(-turn[1], turn[4]) : Math.atan2(turn[3], turn[0]);
  const write = (values: readonly number[], digits: number) =>
    values.map((value) => rounded(value, digits)) as [number, number, number];
  return { at: write(at, 4), turn: write([roll / DEGREE, pitch / DEGREE, yaw / DEGREE], 6) };
}

/** Joints for a pose and for the ends of straight strokes from it; the hand-made cell reaches all it is asked for. */
function jointsFor(robot: Handler | Welder, flange: Pose, ends: readonly Pose[]): readonly Six[] | undefined {
  const local = (pose: Pose): Pose => compose(inverse(robot.base), pose);
  const found = strokes(robot.arm, local(flange), ends.map(local));
  return found.ok ? [degrees(found.value.joints), ...found.value.ends.map(degrees)] : undefined;
}

function needed<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`the hand-made plan has no way for ${what}`);
  return value;
}

const lifted = (pose: Pose, way: number): Pose => translate(pose, scale(UP, way));
const drawnBack = (pose: Pose, way: number): Pose => translate(pose, scale(axisZ(pose.turn), -way));

/** What the hand gives for one tack: where, when, and how the torch leans along the seam, degrees. */
export interface TackChoice {
  readonly seam: string;
  readonly start: number;
  readonly lean: number;
  readonly phase: 'securing' | 'completing';
}

export interface StageChoice {
  readonly part: string;
  readonly grip: PlanGrip;
  /** Face down at the infeed. */
  readonly rest: Handling['take']['rest'];
  /** Set down and taken again on the regrip table, turned by this many degrees. */
  readonly regripYaw?: number;
  /** Of travel, cell frame. */
  readonly direction: Vec3;
  readonly distance: number;
  readonly tacks: readonly TackChoice[];
}

const LENGTH = 40;
const STEEL = { tensileStrength: 360, correlationFactor: 0.8 };

class Maker {
  constructor(
    readonly weldment: Weldment,
    readonly cell: Cell,
    readonly settings: Settings,
  ) {}

  private get way(): number {
    return this.settings.motion['approach-distance'];
  }

  private part(id: string): Part {
    return this.weldment.parts.find((part) => part.id === id)!;
  }

  private flange(part: Part, pose: Pose, { grip }: StageChoice): Pose {
    const { face, position, turn } = grip;
    const gripper = this.cell.grippers.find(({ id }) => id === grip.gripper)!;
    return gripFlange(part.shape, pose, { face, position, turn: turn * DEGREE }, gripper);
  }

  private taking(choice: StageChoice, from: 'infeed' | 'regrip', pose: Pose): Handling['take'] {
    const flange = this.flange(this.part(choice.part), pose, choice);
    const ends = [drawnBack(flange, this.way), lifted(flange, this.way)];
    const [joints, approach, up] = needed(
      jointsFor(this.cell.handler, flange, ends),
      `taking ${choice.part} from ${from}`,
    );
    return {
      from,
      rest: choice.rest,
      part: planPose(pose),
      approach: approach!,
      joints: joints!,
      lifted: up!,
    };
  }

  private putting(choice: StageChoice, to: 'regrip' | 'place', pose: Pose): Handling['put'] {
    const flange = this.flange(this.part(choice.part), pose, choice);
    const before =
      to === 'regrip'
        ? lifted(flange, this.way)
        : translate(flange, scale(choice.direction, -choice.distance));
    const [joints, approach, retreat] = needed(
      jointsFor(this.cell.handler, flange, [before, drawnBack(flange, this.way)]),
      `putting ${choice.part} at ${to}`,
    );
    const rest = to === 'regrip' ? choice.rest : null;
    return { to, rest, part: planPose(pose), approach: approach!, joints: joints!, retreat: retreat! };
  }

  private handling(choice: StageChoice): Handling[] {
    const part = this.part(choice.part);
    const lying = (station: Pose, yaw: number): Pose => lyingPose(part.shape, choice.rest, station, yaw);
    const infeed = lying(this.cell.infeed.pose, 0);
    const final = finalPose(this.cell, part);
    const { grip } = choice;
    if (choice.regripYaw === undefined)
      return [
        { grip, take: this.taking(choice, 'infeed', infeed), put: this.putting(choice, 'place', final) },
      ];
    const between = lying(this.cell.regrip.pose, choice.regripYaw * DEGREE);
    return [
      { grip, take: this.taking(choice, 'infeed', infeed), put: this.putting(choice, 'regrip', between) },
      { grip, take: this.taking(choice, 'regrip', between), put: this.putting(choice, 'place', final) },
    ];
  }

  private tack(choice: TackChoice, order: number): PlanTack {
    const joint = standJoints().find(({ seams }) => seams.some(({ id }) => id === choice.seam))!;
    const seam = joint.seams.find(({ id }) => id === choice.seam)!;
    const frame = this.cell.weldmentPose;
    const way = rotate(frame.turn, unit(subtract(seam.to, seam.from)));
    const open = rotate(frame.turn, seam.open);
    const from = along(place(frame, seam.from), way, choice.start);
    const z = negate(open);
    const square = fromAxes(way, cross(z, way), z);
    const leaning = multiply(turnAbout(cross(z, way), choice.lean * DEGREE), square);
    const torch = this.torch(from, way, leaning);
    const strength = temporaryStrength(LENGTH, throat(4, 0), STEEL, 20);
    const id = `${choice.seam}@${choice.start}`;
    const { phase, start } = choice;
    return {
      ...{ id, joint: joint.id, seam: seam.id, start, length: LENGTH, leg: 4, order, phase },
      ...{ strength: rounded(strength, 1), torch: needed(torch, `tack ${id}`) },
    };
  }

  /** The first roll about the wire in which the welding arm follows all strokes. */
  private torch(from: Vec3, way: Vec3, turn: Pose['turn']): PlanTack['torch'] | undefined {
    const { welder } = this.cell;
    for (let roll = 0; roll < 360; roll += 15) {
      const rolled = multiply(turn, turnAbout(UP, roll * DEGREE));
      const [start, end] = [0, LENGTH].map((at) => ({ at: along(from, way, at), turn: rolled })) as [
        Pose,
        Pose,
      ];
      const [atStart, atEnd] = [torchFlange(start, welder.torch), torchFlange(end, welder.torch)];
      const back = scale(axisZ(rolled), -this.way);
      const first = jointsFor(welder, atStart, [translate(atStart, back), atEnd]);
      const second = jointsFor(welder, atEnd, [translate(atEnd, back)]);
      if (first === undefined || second === undefined) continue;
      if (first[2]!.some((value, i) => Math.abs(value - second[0]![i]!) > 0.01)) continue;
      const [joints, clear, jointsEnd] = first as [Six, Six, Six];
      return { start: planPose(start), end: planPose(end), clear, joints, jointsEnd, leave: second[1]! };
    }
    return undefined;
  }

  stage(choice: StageChoice, index: number): Stage {
    const tacks = choice.tacks.map((tack, i) => this.tack(tack, i + 1));
    const held = tacks.some(({ phase }) => phase === 'securing');
    return {
      number: index + 1,
      part: choice.part,
      handling: this.handling(choice),
      approach: { direction: [...choice.direction] as [number, number, number], distance: choice.distance },
      held: held ? this.cell.handler.id : null,
      stands: index === 0 ? 'clamped' : held ? 'tacked' : 'free-standing',
      tacks,
      reserves: [],
    };
  }

  private standJoints(id: string): Six {
    const { handler, grippers } = this.cell;
    const { stand } = grippers.find((gripper) => gripper.id === id)!;
    for (let yaw = 0; yaw < 360; yaw += 90) {
      const turn = multiply(turnAbout(UP, yaw * DEGREE), turnAbout([1, 0, 0], Math.PI));
      const found = jointsFor(handler, { at: stand, turn }, []);
      if (found) return found[0]!;
    }
    return needed<Six>(undefined, `the stand of ${id}`);
  }

  programs(stages: readonly Stage[]): { programs: GeometricPlan['programs']; handshakes: Handshake[] } {
    const { cell } = this;
    const handler = new StepWriter(cell.handler, cell);
    const welder = new StepWriter(cell.welder, cell);
    let mounted = stages[0]!.handling[0]!.grip.gripper;
    let pending: string | undefined;
    for (const stage of stages) {
      handler.stage = welder.stage = stage.number;
      const { part } = stage;
      for (const { grip, take, put } of stage.handling) {
        if (grip.gripper !== mounted) {
          handler.joint(this.standJoints(grip.gripper), 'tool stand');
          const change = { do: 'change-gripper', to: grip.gripper, stage: stage.number } as const;
          handler.add(change, cell.times.toolChange).home();
          mounted = grip.gripper;
        }
        handler.joint(take.approach, 'above the part').straight(take.joints, 'part');
        handler.add({ do: 'grip', part, gripper: grip.gripper, stage: stage.number }, cell.times.grip);
        handler.straight(take.lifted, 'lifted').home();
        if (put.to === 'regrip') {
          handler.joint(put.approach, 'above the regrip table').straight(put.joints, 'regrip table');
          handler.add({ do: 'set-down', part, stage: stage.number }, cell.times.release);
          handler.straight(put.retreat, 'clear of the part').home();
        }
      }
      pending = this.placing(stage, stage === stages.at(-1), handler, welder, pending);
    }
    const programs = timed([handler, welder]);
    return { programs, handshakes: this.handshakes(programs) };
  }

  /** Brings, holds, tacks and leaves; gives the handshake that the next part must wait for. */
  private placing(
    stage: Stage,
    last: boolean,
    handler: StepWriter,
    welder: StepWriter,
    pending: string | undefined,
  ): string | undefined {
    const { cell } = this;
    const { part, number } = stage;
    const { put } = stage.handling.at(-1)!;
    const groups = (['securing', 'completing'] as const).map((phase) =>
      stage.tacks.filter((tack) => tack.phase === phase),
    );
    const weld = (tacks: readonly PlanTack[], after: string, then: string | undefined): void => {
      welder.handshake('await', after).zone('enter');
      for (const tack of tacks) welder.tack(tack);
      welder.home().zone('leave');
      if (then !== undefined) welder.handshake('signal', then);
    };
    if (pending !== undefined) handler.handshake('await', pending);
    handler.zone('enter').joint(put.approach, 'before its place').straight(put.joints, 'its place');
    if (number === 1)
      handler.add({ do: 'clamp', part, clamp: cell.table.clamp.name, stage: 1 }, cell.times.clamp);
    if (stage.held !== null) {
      handler.add({ do: 'hold', part, stage: number }, cell.times.settle);
      handler.handshake('signal', `held ${part}`).handshake('await', `secured ${part}`);
      weld(groups[0]!, `held ${part}`, `secured ${part}`);
    }
    handler.add({ do: 'let-go', part, stage: number }, cell.times.release);
    handler.straight(put.retreat, 'clear of the part').home().zone('leave');
    if (groups[1]!.length === 0) return undefined;
    handler.handshake('signal', `away from ${part}`);
    weld(groups[1]!, `away from ${part}`, last ? undefined : `done ${part}`);
    return `done ${part}`;
  }

  private handshakes(programs: GeometricPlan['programs']): Handshake[] {
    const find = (what: 'signal' | 'await', id: string): Handshake['from'] => {
      for (const { robot, steps } of programs)
        for (const step of steps)
          if (step.do === what && step.handshake === id) return { robot, step: step.n };
      return needed<Handshake['from']>(undefined, `${what} of ${id}`);
    };
    const ids = programs.flatMap(({ steps }) =>
      steps.flatMap((step) => (step.do === 'signal' ? [step.handshake] : [])),
    );
    return ids.map((id) => ({
      ...{ id, from: find('signal', id), to: find('await', id), meaning: id, guards: 'order' },
      ...{ timeLimit: 60, reaction: 'keep holding' },
    }));
  }
}

const HEAD = { format: 'tackwright-plan', version: 1, kind: 'geometric' } as const;

/** A whole plan from choices made by hand; reserves are left empty. */
function planOf(maker: Maker, choices: readonly StageChoice[]): GeometricPlan {
  const stages = choices.map((choice, i) => maker.stage(choice, i));
  const { programs, handshakes } = maker.programs(stages);
  const makespan = Math.max(...programs.map(({ steps }) => steps.at(-1)!.end));
  const changes = programs
    .flatMap(({ steps }) => steps)
    .filter((step) => step.do === 'change-gripper').length;
  const values = {
    regrips: stages.reduce((sum, { handling }) => sum + handling.length - 1, 0),
    'tool-changes': changes,
    time: Math.ceil(makespan * 10 - 1e-6),
  };
  return {
    ...HEAD,
    weldment: { name: maker.weldment.name, digest: '' },
    cell: { name: maker.cell.name, digest: '' },
    settings: maker.settings,
    objective: maker.settings.objective.map((term) => ({
      term,
      value: values[term],
      bound: term === 'time' ? Math.floor(values.time / 2) : values[term],
    })),
    proof: {
      outcome: 'feasible',
      scope: { parts: stages.length, approaches: 3, grips: 3, rests: 3, sites: 9 },
      ...{ provedTerms: ['regrips', 'tool-changes'], bestOf: 1, states: 3, notChecked: [] },
    },
    ...{
      rulesNotApplied: [],
      warnings: [],
      cautions: [],
      joints: standJoints(),
      stages,
      handshakes,
      programs,
    },
    timeline: {
      makespan,
      activities: [{ robot: 'handler', stage: 1, what: 'all', start: 0, end: makespan, critical: true }],
    },
    safety: { properties: [], interleavings: 0, notCovered: 'faults' },
  };
}

export function contextOf(
  plan: GeometricPlan,
  programs: LinearPrograms,
  weldment = standWeldment(),
  cell = testCell(),
): RuleContext {
  return {
    weldment,
    cell,
    plan,
    settings: plan.settings,
    scene: buildScene(weldment, cell, plan.settings),
    programs,
  };
}

const DOWN: Vec3 = [0, 0, -1];
const grip = (gripper: string, position: [number, number]): PlanGrip => ({
  gripper,
  face: '+z',
  position,
  turn: 0,
});

/** Base, wall, rib: each brought from above; the rib by way of the regrip table. */
export const standChoices = (): StageChoice[] => [
  { part: 'base', grip: grip('single', [0, 0]), rest: '-z', direction: DOWN, distance: 80, tacks: [] },
  {
    ...{ part: 'wall', grip: grip('wide', [0, -35]), rest: '-z', direction: DOWN, distance: 80 },
    tacks: [
      { seam: 'J1.1', start: 10, lean: 0, phase: 'securing' },
      { seam: 'J1.2', start: 250, lean: -15, phase: 'securing' },
      { seam: 'J1.1', start: 250, lean: 0, phase: 'completing' },
      { seam: 'J1.2', start: 10, lean: 0, phase: 'completing' },
    ],
  },
  {
    ...{
      part: 'rib',
      grip: grip('single', [35, 30]),
      rest: '-z',
      regripYaw: 90,
      direction: DOWN,
      distance: 160,
    },
    tacks: [
      { seam: 'J2.1', start: 90, lean: 0, phase: 'securing' },
      { seam: 'J3.1', start: 70, lean: 0, phase: 'securing' },
      { seam: 'J2.1', start: 10, lean: -20, phase: 'completing' },
      { seam: 'J3.1', start: 10, lean: -20, phase: 'completing' },
    ],
  },
];

/** The stand's plan with the reserves that its own states have. */
export function handMadePlan(programs: LinearPrograms, choices = standChoices()): GeometricPlan {
  const maker = new Maker(standWeldment(), testCell(), DEFAULT_SETTINGS);
  const plan = planOf(maker, choices);
  const judged = judgedReserves(contextOf(plan, programs));
  plan.stages.forEach((stage, i) => {
    stage.reserves = judged
      .filter(({ stage: view }) => view.index === i)
      .map(({ state, name, required, reserve }) => ({
        ...{ state, case: name, required, reserve: rounded(reserve, 4), weakest: '' },
      }));
  });
  return plan;
}
