import { compose, IDENTITY, inverse, place, rotate, translate, type Pose } from '../../../geometry/pose.js';
import { add, along, distance, dot, scale, type Vec3 } from '../../../geometry/vector.js';
import type { Joints } from '../../../kinematics/arm.js';
import type { PageData, PageStage, PageTack } from '../../../report/page/page-data.js';
import type { LookState } from '../look.js';
import { exaggerated, movedAt } from './distortion.js';
import { explodeOffsets, type ExplodeWay } from './explode.js';
import { flangeOf } from './flange.js';
import { partPose, placeAt, type Around } from './part-pose.js';
import { pointsOf } from './points.js';
import { poseOf, tableAngle, tableTurned } from './poses.js';
import { roomOf, type Room } from './section-plane.js';
import { presentStage, SAME, stageBegins } from './stages.js';
import { jointsIn, stepAt } from './steps.js';

/** What a part is at a moment: each looks different. */
export type PartRole = 'newcomer' | 'joined' | 'waiting';

export interface ShownPart {
  readonly pose: Pose | undefined;
  readonly role: PartRole;
}

export interface ShownTackPlace {
  readonly tack: PageTack;
  /** Whether it lies already, is being laid, or comes later in the stage that is looked at. */
  readonly state: 'laid' | 'now' | 'later';
  /** Whether it belongs to the stage that is looked at. */
  readonly present: boolean;
  /** What moves it out of where it is stated. */
  readonly moved: Pose;
}

/** All that is seen at a moment, in the cell. */
export interface ShownMoment {
  readonly stage: PageStage | undefined;
  readonly parts: readonly ShownPart[];
  readonly arms: readonly {
    readonly joints: Joints | undefined;
    readonly tool: number;
    readonly flange: Pose | undefined;
  }[];
  readonly table: Pose;
  readonly tacks: readonly ShownTackPlace[];
  readonly seams: readonly {
    readonly ends: readonly [Vec3, Vec3];
    readonly joint: number;
    readonly moved: Pose;
  }[];
  readonly arrow: { readonly from: Vec3; readonly direction: Vec3; readonly distance: number } | undefined;
}

/** Makes what is seen from the moment and the look; what does not change with them is worked out once. */
export class Moments {
  readonly begins: readonly number[];
  /** Of all final places, with the table at angle 0. */
  readonly room: Room;
  /** Across the weldment, mm; everything that only marks something is drawn in proportion to it. */
  readonly size: number;
  private readonly offsets: Readonly<Record<ExplodeWay, readonly (Vec3 | undefined)[]>>;

  constructor(readonly data: PageData) {
    this.begins = stageBegins(data.stages);
    this.room = roomOf(data.parts.flatMap((_, part) => this.corners(part))) ?? {
      low: [0, 0, 0],
      high: [1, 1, 1],
    };
    this.size = distance(this.room.low, this.room.high);
    this.offsets = { approach: this.offsetsOf('approach'), base: this.offsetsOf('base') };
  }

  stageAt(time: number): PageStage | undefined {
    return this.data.stages[presentStage(this.begins, time)];
  }

  /** Corners of all parts in place, where they are shown. */
  placedCorners(time: number, look: LookState): readonly Vec3[] {
    return this.at(time, look).parts.flatMap(({ pose, role }, i) =>
      !pose || role === 'waiting'
        ? []
        : pointsOf(this.data.parts[i]!.mesh.corners).map((corner) => place(pose, corner)),
    );
  }

  at(time: number, look: LookState): ShownMoment {
    const { data } = this;
    const stage = this.stageAt(time);
    const arms = data.robots.map((robot) => {
      const step = stepAt(robot, time);
      const joints = step && jointsIn(step, time);
      return { joints, tool: step?.tool ?? -1, flange: joints && flangeOf(robot, joints) };
    });
    const around: Around = {
      flanges: arms.map(({ flange }) => flange),
      table: tableTurned(data.turns, tableAngle(data.turns, time)),
      moved: movedAt(data, time),
      factor: look.factor,
      offsets: this.offsets[look.explodeWay],
      exploded: look.exploded,
    };
    const parts = data.parts.map((part, i): ShownPart => {
      const there = placeAt(part, time);
      const role = i === stage?.part ? 'newcomer' : there?.where === 'in-place' ? 'joined' : 'waiting';
      return { pose: there && partPose(i, there, around), role };
    });
    return {
      stage,
      parts,
      arms,
      table: around.table,
      tacks: this.tacksAt(time, stage, around),
      seams: this.seamsAt(time, stage, around),
      arrow: stage && this.arrowOf(stage, around),
    };
  }

  /** What moves a thing that lies on a part in its final place. */
  private movedWith(part: number, around: Around): Pose {
    const moved = exaggerated(around.moved[part], around.factor);
    const out = scale(around.offsets[part] ?? [0, 0, 0], around.exploded);
    return compose(around.table, translate(moved ?? IDENTITY, out));
  }

  private tacksAt(time: number, stage: PageStage | undefined, around: Around): ShownTackPlace[] {
    return this.data.stages.flatMap((own) => {
      const moved = this.movedWith(own.part, around);
      return own.tacks.flatMap((tack): ShownTackPlace[] => {
        const end = tack.end ?? own.placed;
        const state =
          end <= time + SAME ? 'laid' : tack.start !== null && tack.start <= time ? 'now' : 'later';
        const present = own === stage;
        return state === 'later' && !present ? [] : [{ tack, state, present, moved }];
      });
    });
  }

  /** Of joints whose two parts are in place, or are the newcomer. */
  private seamsAt(time: number, stage: PageStage | undefined, around: Around): ShownMoment['seams'] {
    const there = this.data.parts.map(
      (part, i) => i === stage?.part || placeAt(part, time)?.where === 'in-place',
    );
    return this.data.joints.flatMap(({ between: [a, b], seams }, joint) => {
      if (!there[a] || !there[b]) return [];
      const later = this.data.parts[a]!.stage > this.data.parts[b]!.stage ? a : b;
      const moved = this.movedWith(later, around);
      return seams.map((ends) => ({ ends, joint, moved }));
    });
  }

  /** Ends where the newcomer begins, seen along its way. */
  private arrowOf({ part, approach, turn }: PageStage, around: Around): ShownMoment['arrow'] {
    if (!approach || !this.data.parts[part]) return undefined;
    const back = inverse(tableTurned(this.data.turns, turn));
    const direction = rotate(compose(around.table, back).turn, approach.direction);
    const corners = this.corners(part).map((corner) => place(this.movedWith(part, around), corner));
    const middle = scale(corners.reduce(add), 1 / corners.length);
    const reach = Math.max(...corners.map((corner) => -dot(corner, direction) + dot(middle, direction)));
    const size = Math.min(approach.distance, this.size * 0.6);
    return { from: along(middle, direction, -(reach + size + this.size * 0.02)), direction, distance: size };
  }

  private offsetsOf(way: ExplodeWay): (Vec3 | undefined)[] {
    const { stages } = this.data;
    const made = explodeOffsets(
      stages.map(({ part, approach, turn }) => {
        const corners = this.corners(part);
        const back = inverse(tableTurned(this.data.turns, turn)).turn;
        return {
          part,
          middle: corners.length === 0 ? [0, 0, 0] : scale(corners.reduce(add), 1 / corners.length),
          approach: approach ? rotate(back, approach.direction) : undefined,
        };
      }),
      way,
      this.size,
    );
    const byPart: (Vec3 | undefined)[] = [];
    stages.forEach(({ part }, i) => (byPart[part] = made[i]));
    return byPart;
  }

  /** Corners of a part in its final place. */
  private corners(part: number): readonly Vec3[] {
    const own = this.data.parts[part];
    if (!own) return [];
    const pose = poseOf(own.final);
    return pointsOf(own.mesh.corners).map((corner) => place(pose, corner));
  }
}
