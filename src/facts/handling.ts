import { Kept } from '../base/kept.js';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { snap } from '../base/order.js';
import { intersects, members, setOf } from '../base/part-set.js';
import { placePiece } from '../geometry/convex.js';
import {
  IDENTITY,
  compose,
  inverse,
  multiply,
  rotate,
  translate,
  turnAbout,
  type Pose,
} from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate, scale, subtract, unit, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { reach } from '../kinematics/reach.js';
import { eachStrokes } from '../kinematics/strokes.js';
import { gripFlange, gripperSolid, padsInCell } from '../model/placement.js';
import type { Gripper, Handler } from '../model/cell.js';
import { outOfOpening, stationOf } from '../model/stations.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Approach } from './approaches.js';
import { ArmRoom, gripperAlone, type ArmHits, type StandingArm, type Load } from './arm-room.js';
import type { Grip } from './grips.js';
import { Motions, type GripMotion, type StationMotion } from './grip-motion.js';
import { reachRefusal } from './reach-refusal.js';
import { Routes, type Route } from './routes.js';
import type { Spot } from './spots.js';

const UP: Vec3 = [0, 0, 1];

/** Ways to the stand of a gripper and home again. */
export interface GripperChange {
  readonly out: Route;
  readonly back: Route;
}

/** A motion that is asked for: the flange on the part, the far ends of both strokes, and what the arm carries then. */
interface Asked {
  readonly part: number;
  readonly grip: Grip;
  readonly where: string;
  readonly flange: Pose;
  readonly ends: readonly [Pose, Pose];
  readonly carries: 'in' | 'out' | 'nothing';
  /** Whether the part stands in its final place when the arm comes, and when it goes. */
  readonly inPlace: readonly [boolean, boolean];
}

/** Moves of one handling arm, judged on demand. `subjects` name them in refusals. */
export class HandlingReach {
  private readonly toBase: Pose;
  private readonly distance: number;
  private readonly tolerance: number;
  private readonly room: ArmRoom;
  private readonly standings = new Kept<StandingArm>();
  private readonly loads = new Kept<{ readonly gripper: Load; readonly both: Load }>();

  constructor(
    private readonly scene: Scene,
    private readonly robot: Handler,
    settings: Settings,
  ) {
    this.toBase = inverse(robot.base);
    this.distance = settings.motion['approach-distance'];
    this.tolerance = settings.motion['touch-tolerance'];
    this.room = new ArmRoom(scene, robot, settings);
  }

  /** Taking the part from where it lies: down onto it along the grip, up with it. */
  take(part: number, grip: Grip, spot: Spot): Result<StationMotion, Refusal> {
    const flange = this.flange(part, grip, spot.pose);
    const ends = [this.drawnBack(flange), translate(flange, scale(UP, this.distance))] as const;
    return this.atStation(part, grip, spot, { flange, ends, carries: 'out' });
  }

  /** Setting the part down where it shall lie: down with it, away along the grip. */
  setDown(part: number, grip: Grip, spot: Spot): Result<StationMotion, Refusal> {
    const flange = this.flange(part, grip, spot.pose);
    const ends = [translate(flange, scale(UP, this.distance)), this.drawnBack(flange)] as const;
    return this.atStation(part, grip, spot, { flange, ends, carries: 'in' });
  }

  /** Bringing the part to its final place along an approach, and leaving it along the grip: every branch, or the first refusal. */
  place(part: number, grip: Grip, approach: Approach): Motions {
    const flange = this.flange(part, grip, this.scene.parts[part]!.pose);
    const from = translate(flange, scale(approach.direction, -approach.distance));
    const ends = [from, this.drawnBack(flange)] as const;
    return new Motions((refuse) =>
      this.motions(
        { part, grip, where: 'place', flange, ends, carries: 'in', inPlace: [false, true] },
        refuse,
      ),
    );
  }

  /** Taking hold of a part in its final place, along the grip both ways: every branch, or the first refusal. */
  hold(part: number, grip: Grip): Motions {
    const flange = this.flange(part, grip, this.scene.parts[part]!.pose);
    const back = this.drawnBack(flange);
    const ends = [back, back] as const;
    return new Motions((refuse) =>
      this.motions(
        { part, grip, where: 'place', flange, ends, carries: 'nothing', inPlace: [true, true] },
        refuse,
      ),
    );
  }

  /** Going to the stand of a gripper with another one on the arm, and home with it. */
  change(from: Gripper, to: Gripper): GripperChange | undefined {
    const all = setOf(
      this.scene.parts.length,
      this.scene.parts.map((_, i) => i),
    );
    for (const joints of this.overStand(to)) {
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

  /** Postures over a gripper's stand, flange straight down, turned by quarters about the vertical. */
  private overStand(gripper: Gripper): readonly Joints[] {
    const { base, arm } = this.robot;
    return [0, 1, 2, 3].flatMap((quarter) => {
      const turn = multiply(
        base.turn,
        multiply(turnAbout(UP, (quarter * Math.PI) / 2), turnAbout([1, 0, 0], Math.PI)),
      );
      const found = reach(arm, compose(this.toBase, { at: gripper.stand, turn }));
      return found.ok ? found.value.map(({ joints }) => joints) : [];
    });
  }

  private flange(part: number, grip: Grip, pose: Pose): Pose {
    return gripFlange(this.scene.parts[part]!.part.shape, pose, grip, grip.gripper);
  }

  private drawnBack(flange: Pose): Pose {
    return translate(flange, rotate(flange.turn, scale(UP, -this.distance)));
  }

  /** The first branch that gets there, and there from home and back, clear of all else; or why none does. */
  private atStation(
    part: number,
    grip: Grip,
    spot: Spot,
    asked: Pick<Asked, 'flange' | 'ends' | 'carries'>,
  ): Result<StationMotion, Refusal> {
    const blocked = this.belowStation(part, grip, spot) ?? this.blockedAtStation(part, grip, spot);
    if (blocked) return fail(blocked);
    const { parts } = this.scene;
    const others = setOf(
      parts.length,
      parts.flatMap((_, i) => (i === part ? [] : [i])),
    );
    let first: Refusal | undefined;
    const whole: Asked = { ...asked, part, grip, where: spot.station, inPlace: [false, false] };
    for (const motion of this.motions(whole, (refusal) => (first ??= refusal))) {
      const met = intersects(motion.hits, others);
      const out = met ? undefined : motion.come.first(others);
      const back = out && motion.go.first(others);
      if (out && back) return ok({ ...motion, out, back });
      first ??= this.blocked(
        whole,
        met ? { parts: motion.hits, fixed: undefined } : (out ? motion.go : motion.come).hits,
      );
    }
    return fail(first!);
  }

  /** The motions of each branch whose links keep clear of what is fixed; the others are told why not. */
  private *motions(asked: Asked, refuse: (refusal: Refusal) => void): Generator<GripMotion> {
    const { part, grip, where, flange, ends, carries, inPlace } = asked;
    const { room, robot } = this;
    const local = (pose: Pose): Pose => compose(this.toBase, pose);
    const load = this.load(part, grip);
    const [loadIn, loadOut] = [
      carries === 'in' ? load.both : load.gripper,
      carries === 'out' ? load.both : load.gripper,
    ];
    const unless = (stands: boolean): number | undefined => (stands ? undefined : part);
    for (const found of eachStrokes(robot.arm, local(flange), ends.map(local))) {
      if (!found.ok) {
        refuse(reachRefusal(found.error, [this.scene.parts[part]!.part.id, robot.id, where, grip.face]));
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
  private load(part: number, grip: Grip): { readonly gripper: Load; readonly both: Load } {
    return this.loads.get(`${part} ${grip.id}`, () => {
      const { own, part: given } = this.scene.parts[part]!;
      const toFlange = inverse(gripFlange(given.shape, IDENTITY, grip, grip.gripper));
      const placed = ({ pieces }: Solid): Load => pieces.map((piece) => placePiece(piece, toFlange));
      const gripper = placed(gripperSolid(given.shape, IDENTITY, grip, grip.gripper));
      return { gripper, both: [...gripper, ...placed(own)] };
    });
  }

  private blocked({ part, where, grip }: Asked, { fixed, parts }: ArmHits): Refusal {
    const names = fixed === undefined ? members(parts).map((i) => this.scene.parts[i]!.part.id) : [fixed];
    const { id } = this.scene.parts[part]!.part;
    return { code: 'arm-blocked', subjects: [id, this.robot.id, where, grip.face, ...names] };
  }

  /** A keep-out or the work table in the way of the gripper drawn back, or of part and gripper lifted. */
  private blockedAtStation(part: number, grip: Grip, spot: Spot): Refusal | undefined {
    const { own, part: given } = this.scene.parts[part]!;
    const { shape, id } = given;
    const gripper = gripperSolid(shape, spot.pose, grip, grip.gripper);
    const away = negate(padsInCell(shape, spot.pose, grip, grip.gripper).into);
    const meets = (solid: Solid): boolean =>
      sweepHits(gripper, away, this.distance, solid, this.tolerance) ||
      [gripper, placeSolid(own, spot.pose)].some((moving) =>
        sweepHits(moving, UP, this.distance, solid, this.tolerance),
      );
    if (![this.scene.table, ...this.scene.keepOuts].some(meets)) return undefined;
    return { code: 'station-blocked', subjects: [id, grip.gripper.id, spot.station, grip.face] };
  }

  private belowStation(part: number, grip: Grip, spot: Spot): Refusal | undefined {
    const { cell } = this.scene;
    const { shape, id } = this.scene.parts[part]!.part;
    const top = stationOf(cell, spot.station)!.pose.at[2];
    const gripper = gripperSolid(shape, spot.pose, grip, grip.gripper);
    const lowest = gripper.bounds.low[2];
    if (snap(lowest - top, 1e-6) >= 0) return undefined;
    const { twoSided } = cell;
    if (spot.station === 'two-sided' && snap(outOfOpening(twoSided!, gripper), 1e-6) <= 0) return undefined;
    return {
      code: 'gripper-below-station',
      subjects: [id, grip.gripper.id, spot.station, grip.face],
      value: top - lowest,
      limit: 0,
      unit: 'mm',
    };
  }
}
