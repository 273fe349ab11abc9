import { Kept } from '../base/kept.js';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { intersects, members, setOf } from '../base/part-set.js';
import { placePiece } from '../geometry/convex.js';
import { IDENTITY, inverse, type Pose } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { subtract, unit, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { gripFlange, gripperSolid } from '../model/placement.js';
import type { Gripper, Handler } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Approach } from './approaches.js';
import { ArmRoom, gripperAlone, type ArmHits, type Load, type StandingArm } from './arm-room.js';
import { Motions, type GripMotion, type StationMotion } from './grip-motion.js';
import { GripReach, type GripStrokes } from './grip-strokes.js';
import type { Grip } from './grips.js';
import { Routes, type Route } from './routes.js';
import type { Spot } from './spots.js';

/** Ways to the stand of a gripper and home again. */
export interface GripperChange {
  readonly out: Route;
  readonly back: Route;
}

/** Moves of one handling arm among all that it must keep clear of, judged on demand. */
export class HandlingReach {
  private readonly reach: GripReach;
  private readonly room: ArmRoom;
  private readonly standings = new Kept<StandingArm>();
  private readonly loads = new Kept<{ readonly gripper: Load; readonly both: Load }>();

  constructor(
    private readonly scene: Scene,
    robot: Handler,
    settings: Settings,
  ) {
    this.reach = new GripReach(scene, robot, settings);
    this.room = new ArmRoom(scene, robot, settings);
  }

  /** Taking the part from where it lies. */
  take(part: number, grip: Grip, spot: Spot): Result<StationMotion, Refusal> {
    const asked = this.reach.take(part, grip, spot);
    return asked.ok ? this.atStation(asked.value) : asked;
  }

  /** Setting the part down where it shall lie. */
  setDown(part: number, grip: Grip, spot: Spot): Result<StationMotion, Refusal> {
    const asked = this.reach.setDown(part, grip, spot);
    return asked.ok ? this.atStation(asked.value) : asked;
  }

  /** Bringing the part to its final place along an approach: every branch, or the first refusal. */
  place(part: number, grip: Grip, approach: Approach): Motions {
    return new Motions((refuse) => this.motions(this.reach.place(part, grip, approach), refuse));
  }

  /** Taking hold of a part in its final place: every branch, or the first refusal. */
  hold(part: number, grip: Grip): Motions {
    return new Motions((refuse) => this.motions(this.reach.hold(part, grip), refuse));
  }

  /** Going to the stand of a gripper with another one on the arm, and home with it. */
  change(from: Gripper, to: Gripper): GripperChange | undefined {
    const all = setOf(
      this.scene.parts.length,
      this.scene.parts.map((_, i) => i),
    );
    for (const joints of this.reach.overStand(to)) {
      const end = { joints, away: undefined };
      const out = new Routes(this.room, gripperAlone(from), 'home', end).first(all);
      const back = out && new Routes(this.room, gripperAlone(to), end, 'home').first(all);
      if (out && back) return { out, back };
    }
    return undefined;
  }

  /** The arm with its gripper as it holds a part in its final place: the same for both bends of the wrist. */
  standing(part: number, grip: Grip, { branch, joints }: GripMotion): StandingArm {
    return this.standings.get(`${part} ${grip.id} ${branch >> 1}`, () =>
      this.room.standing(this.load(part, grip).gripper, joints),
    );
  }

  /** Whether links and gripper keep clear of another arm in the strokes of a motion. */
  strokesClear(part: number, grip: Grip, { strokes }: GripMotion, other: StandingArm): boolean {
    return !this.room.meets(this.load(part, grip).gripper, strokes, other, 'not loads');
  }

  /** The first branch that gets there, and there from home and back, clear of all else; or why none does. */
  private atStation(asked: GripStrokes): Result<StationMotion, Refusal> {
    const { parts } = this.scene;
    const others = setOf(
      parts.length,
      parts.flatMap((_, i) => (i === asked.part ? [] : [i])),
    );
    let first: Refusal | undefined;
    for (const motion of this.motions(asked, (refusal) => (first ??= refusal))) {
      const met = intersects(motion.hits, others);
      const out = met ? undefined : motion.come.first(others);
      const back = out && motion.go.first(others);
      if (out && back) return ok({ ...motion, out, back });
      first ??= this.blocked(
        asked,
        met ? { parts: motion.hits, fixed: undefined } : (out ? motion.go : motion.come).hits,
      );
    }
    return fail(first!);
  }

  /** The motions of each branch whose links keep clear of what is fixed; the others are told why not. */
  private *motions(asked: GripStrokes, refuse: (refusal: Refusal) => void): Generator<GripMotion> {
    const { part, grip, flange, ends, carries, inPlace } = asked;
    const { room } = this;
    const load = this.load(part, grip);
    const [loadIn, loadOut] = [
      carries === 'in' ? load.both : load.gripper,
      carries === 'out' ? load.both : load.gripper,
    ];
    const unless = (stands: boolean): number | undefined => (stands ? undefined : part);
    for (const found of this.reach.follow(asked)) {
      if (!found.ok) {
        refuse(found.error);
        continue;
      }
      const { branch, joints, ways } = found.value;
      const [approach, leave] = found.value.ends as [Joints, Joints];
      const strokes = [...ways[0]!.toReversed(), ...ways[1]!.slice(1)];
      const met = room.hits([], strokes, part);
      if (met.fixed !== undefined) {
        refuse(this.blocked(asked, met));
        continue;
      }
      const away = (end: Pose): Vec3 => unit(subtract(end.at, flange.at));
      const [start, end] = [
        { joints: approach, away: away(ends[0]) },
        { joints: leave, away: away(ends[1]) },
      ];
      const come = new Routes(room, loadIn, 'home', start, unless(inPlace[0]));
      const go = new Routes(room, loadOut, end, 'home', unless(inPlace[1]));
      yield { branch, joints, approach, leave, strokes, hits: met.parts, come, go };
    }
  }

  /** Gripper, and gripper with part, in the flange frame. */
  load(part: number, grip: Grip): { readonly gripper: Load; readonly both: Load } {
    return this.loads.get(`${part} ${grip.id}`, () => {
      const { own, part: given } = this.scene.parts[part]!;
      const toFlange = inverse(gripFlange(given.shape, IDENTITY, grip, grip.gripper));
      const placed = ({ pieces }: Solid): Load => pieces.map((piece) => placePiece(piece, toFlange));
      const gripper = placed(gripperSolid(given.shape, IDENTITY, grip, grip.gripper));
      return { gripper, both: [...gripper, ...placed(own)] };
    });
  }

  private blocked({ part, where, grip }: GripStrokes, { fixed, parts }: ArmHits): Refusal {
    const names = fixed === undefined ? members(parts).map((i) => this.scene.parts[i]!.part.id) : [fixed];
    const { id } = this.scene.parts[part]!.part;
    return { code: 'arm-blocked', subjects: [id, this.room.robot.id, where, grip.face, ...names] };
  }
}
