import {
  axisZ,
  compose,
  fromAxes,
  IDENTITY,
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
import { temporaryStrength, throat } from '../../src/mechanics/tack-strength.js';
import type { Cell, Handler, Welder } from '../../src/model/cell.js';
import { finalPose, gripFlange, lyingPose, torchFlange } from '../../src/model/placement.js';
import type { Handling, PlanGrip, PlanPose, PlanTack, Stage } from '../../src/model/plan.js';
import type { Settings } from '../../src/model/settings.js';
import type { Part, Weldment } from '../../src/model/weldment.js';
import { standJoints } from './stand-weldment.js';
import { degrees, RAISED, type Six } from './step-writer.js';
import { NO_STAGE_DISTORTION } from '../../src/planning/distortion.js';

export const UP: Vec3 = [0, 0, 1];
export const DEGREE = Math.PI / 180;

export const rounded = (value: number, digits: number): number =>
  Math.round(value * 10 ** digits) / 10 ** digits;

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
export function jointsFor(
  robot: Handler | Welder,
  flange: Pose,
  ends: readonly Pose[],
): readonly Six[] | undefined {
  const local = (pose: Pose): Pose => compose(inverse(robot.base), pose);
  const found = strokes(robot.arm, local(flange), ends.map(local));
  return found.ok ? [degrees(found.value.joints), ...found.value.ends.map(degrees)] : undefined;
}

export function needed<T>(value: T | undefined, what: string): T {
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
  /** Where on the seam it is repeated when it is bad; absent: nowhere. */
  readonly again?: number;
}

export interface StageChoice {
  readonly part: string;
  readonly grip: PlanGrip;
  /** Face down at the infeed. */
  readonly rest: Handling['take']['rest'];
  /** Set down and taken again on the regrip table, turned by this many degrees. */
  readonly regripYaw?: number;
  /** Index angle of the table, degrees; absent: a table that does not turn. */
  readonly turn?: number;
  /** Of travel, cell frame with the table at 0. */
  readonly direction: Vec3;
  readonly distance: number;
  readonly tacks: readonly TackChoice[];
}

const LENGTH = 40;
const STEEL = { tensileStrength: 360, correlationFactor: 0.8 };

/** Filled in with the reserves, once the whole plan is there. */
const NOT_YET: Handling['carried'] = { case: 'gravity', required: 1, reserve: 0 };

/** Makes the stages of a plan from choices made by hand: poses and joints by plain formulas. */
export class StageMaker {
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
      jointsFor(this.cell.handlers[0]!, flange, ends),
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
        : translate(flange, scale(this.direction(choice), -choice.distance));
    const [joints, approach, retreat] = needed(
      jointsFor(this.cell.handlers[0]!, flange, [before, drawnBack(flange, this.way)]),
      `putting ${choice.part} at ${to}`,
    );
    const rest = to === 'regrip' ? choice.rest : null;
    return { to, rest, part: planPose(pose), approach: approach!, joints: joints!, retreat: retreat! };
  }

  /** From the table at index angle 0 to the cell. */
  private turned({ turn = 0 }: StageChoice): Pose {
    const { turntable } = this.cell.table;
    if (turntable === undefined) return IDENTITY;
    const [x, y] = turntable.axis;
    const about = turnAbout(UP, turn * DEGREE);
    return { at: subtract([x, y, 0], rotate(about, [x, y, 0])), turn: about };
  }

  private direction(choice: StageChoice): Vec3 {
    return rotate(this.turned(choice).turn, choice.direction);
  }

  private handling(choice: StageChoice): Handling[] {
    const part = this.part(choice.part);
    const lying = (station: Pose, yaw: number): Pose => lyingPose(part.shape, choice.rest, station, yaw);
    const infeed = lying(this.cell.infeed.pose, 0);
    const final = compose(this.turned(choice), finalPose(this.cell, part));
    const { grip } = choice;
    if (choice.regripYaw === undefined)
      return [
        {
          ...{ grip, take: this.taking(choice, 'infeed', infeed), put: this.putting(choice, 'place', final) },
          carried: NOT_YET,
        },
      ];
    const between = lying(this.cell.regrip.pose, choice.regripYaw * DEGREE);
    return [
      {
        ...{
          grip,
          take: this.taking(choice, 'infeed', infeed),
          put: this.putting(choice, 'regrip', between),
        },
        carried: NOT_YET,
      },
      {
        ...{ grip, take: this.taking(choice, 'regrip', between), put: this.putting(choice, 'place', final) },
        carried: NOT_YET,
      },
    ];
  }

  private tack(choice: TackChoice, order: number, turned: Pose): PlanTack {
    const joint = standJoints().find(({ seams }) => seams.some(({ id }) => id === choice.seam))!;
    const seam = joint.seams.find(({ id }) => id === choice.seam)!;
    const frame = compose(turned, this.cell.weldmentPose);
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
      ...{
        id,
        robot: this.cell.welders[0]!.id,
        joint: joint.id,
        seam: seam.id,
        start,
        length: LENGTH,
        leg: 4,
        order,
        phase,
      },
      // Every seam of the stand is a fillet on a level plate or an upright corner, laid from its lower end.
      ...{ strength: rounded(strength, 1), position: Math.abs(way[2]) > 0.5 ? 'PF' : 'PB' },
      torch: needed(torch, `tack ${id}`),
    };
  }

  /** The first roll about the wire in which the welding arm follows all strokes and gets up beside what stands there. */
  private torch(from: Vec3, way: Vec3, turn: Pose['turn']): PlanTack['torch'] | undefined {
    const welder = this.cell.welders[0]!;
    for (let roll = 0; roll < 360; roll += 15) {
      const rolled = multiply(turn, turnAbout(UP, roll * DEGREE));
      const [start, end] = [0, LENGTH].map((at) => ({ at: along(from, way, at), turn: rolled })) as [
        Pose,
        Pose,
      ];
      const [atStart, atEnd] = [torchFlange(start, welder.torch), torchFlange(end, welder.torch)];
      const back = scale(axisZ(rolled), -this.settings.motion['torch-stroke']);
      const [clearOf, leaving] = [translate(atStart, back), translate(atEnd, back)];
      const first = jointsFor(welder, atStart, [clearOf, atEnd, lifted(clearOf, RAISED)]);
      const second = jointsFor(welder, atEnd, [leaving, lifted(leaving, RAISED)]);
      if (first === undefined || second === undefined) continue;
      if (first[2]!.some((value, i) => Math.abs(value - second[0]![i]!) > 0.01)) continue;
      const [joints, clear, jointsEnd] = first as [Six, Six, Six, Six];
      return { start: planPose(start), end: planPose(end), clear, joints, jointsEnd, leave: second[1]! };
    }
    return undefined;
  }

  stage(choice: StageChoice, index: number): Stage {
    const tacks = choice.tacks.map((tack, i) => this.tack(tack, i + 1, this.turned(choice)));
    const held = tacks.some(({ phase }) => phase === 'securing');
    return {
      number: index + 1,
      part: choice.part,
      robot: this.cell.handlers[0]!.id,
      handling: this.handling(choice),
      ...(choice.turn === undefined ? {} : { turn: choice.turn }),
      approach: { direction: [...this.direction(choice)], distance: choice.distance },
      held: held ? this.cell.handlers[0]!.id : null,
      stands: index === 0 ? 'clamped' : held ? 'tacked' : 'free-standing',
      powerLoss: [],
      proofPull: held ? this.settings.loads['proof-pull'] : null,
      remedies: [],
      accuracy: [],
      tacks,
      rework: choice.tacks.map(({ again, ...tack }, i) =>
        again === undefined
          ? { instead: tacks[i]!.id, tack: null, none: 'no-site' }
          : { instead: tacks[i]!.id, tack: this.tack({ ...tack, start: again }, i + 1, this.turned(choice)) },
      ),
      reserves: [],
      distortion: NO_STAGE_DISTORTION,
    };
  }
}
