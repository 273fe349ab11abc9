import { Kept } from '../base/kept.js';
import type { Result } from '../base/result.js';
import type { LinearPrograms } from '../algorithms/linear-program.js';
import { has, setKey, type PartSet } from '../base/part-set.js';
import { inverse, place, type Pose } from '../geometry/pose.js';
import { sweepHits } from '../geometry/sweep.js';
import type { Joints } from '../kinematics/arm.js';
import { negate } from '../geometry/vector.js';
import type { Gripper, Handler } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import { indexAngles, sceneAnyhow, sceneAt } from '../model/table-turn.js';
import type { Settings } from '../model/settings.js';
import { wishesOf } from '../model/wish.js';
import { isGrip } from '../rules/wish-kept.js';
import { endMargin, leastLength } from '../model/tack-settings.js';
import type { Judged, Refusal } from '../model/verdict.js';
import { fitUpOf, partInPlace, type FitUp, type InPlace, type Lying } from './accuracy.js';
import { approachesOf, type Approach } from './approaches.js';
import type { Load, StandingArm } from './arm-room.js';
import { nextChains, type Chain } from './chains.js';
import { CarryingTest } from './grip-carries.js';
import { dropDominated } from './grip-dominance.js';
import { pointsAlong } from './grip-rank.js';
import { gripperHits, obstaclesMet, type GripperHits } from './gripper-clearance.js';
import { gripsOf, type Grip } from './grips.js';
import { seenGrip } from './seen-grip.js';
import type { GripMotion, Motions, StationMotion } from './grip-motion.js';
import { HandlingReach, type GripperChange } from './handling.js';
import { findJoints, seamThicknesses, type Joint, type JointMiss, type JointSeam } from './joints.js';
import { restsOf, type Rest } from './rests.js';
import type { Routes } from './routes.js';
import { infeedSpot, regripSpots, standSpots, type Spot } from './spots.js';
import { siteId, type TackSite } from './tack-sites.js';
import { TurnRoom } from './turn-room.js';
import type { TorchMotion, TorchTest } from './torch-motion.js';
import { Welding } from './welding.js';

/** Most regrips that are considered for one part. */
export const MOST_REGRIPS = 2;

/**
 * What the input implies, as tables that are filled on demand. Every filter answers with the candidate or with the
 * reason against it; nothing here chooses. Where the work table turns, what is asked about the final places of parts,
 * and about tacks, is answered for one index angle, as seen from the table; all else is the same at each of them.
 */
export class Facts {
  readonly joints: readonly Joint[];
  readonly jointMisses: readonly JointMiss[];
  /** The cell as seen from the table at this index angle. */
  private readonly seen: Scene;
  /** By robot: to the final places, and to the stations, where the table may be at any angle. */
  private readonly reaches: ReadonlyMap<string, HandlingReach>;
  private readonly stationReaches: ReadonlyMap<string, HandlingReach>;
  private readonly atAngles = new Kept<Facts>();
  private turnRoom: TurnRoom | undefined;
  private readonly carrying: CarryingTest;
  private readonly welding: Welding;
  private readonly approachTable = new Kept<readonly Approach[]>();
  private readonly gripTable = new Kept<readonly Judged<Grip>[]>();
  private readonly usableTable = new Kept<readonly Grip[]>();
  private readonly restTable = new Kept<readonly Rest[]>();
  private readonly spotTable = new Kept<readonly Spot[]>();
  private readonly stationTable = new Kept<Result<StationMotion, Refusal>>();
  private readonly placeTable = new Kept<Result<Iterable<GripMotion>, Refusal>>();
  private readonly beadTable = new Kept<boolean>();
  private readonly hitTable = new Kept<GripperHits>();
  /** By robot and part: chains by number of regrips, as far as they were asked for, and what they have reached. */
  private readonly chainTable = new Kept<{
    readonly layers: (readonly Chain[])[];
    readonly seen: Set<string>;
  }>();
  private readonly fitTable = new Kept<Result<FitUp, Refusal>>();
  private readonly changeTable = new Kept<GripperChange | undefined>();

  constructor(
    readonly scene: Scene,
    readonly settings: Settings,
    readonly programs: LinearPrograms,
    /**
     * Whether answers of statics, holds, tacks and completed orders are kept. The tables of this class always are:
     * their rows are known by identity.
     */
    readonly keeping = true,
    /** Of the table, degrees; with the facts of index angle 0 where it is another. */
    readonly angle = 0,
    private readonly upright?: Facts,
  ) {
    const { joints, misses } = upright
      ? { joints: upright.joints, misses: upright.jointMisses }
      : findJoints(scene);
    this.joints = joints;
    this.jointMisses = misses;
    this.seen = sceneAt(scene, angle);
    const { cell } = this.seen;
    const reachesIn = (among: Scene, robots: readonly Handler[]): ReadonlyMap<string, HandlingReach> =>
      new Map(robots.map((robot) => [robot.id, new HandlingReach(among, robot, settings)]));
    this.reaches = reachesIn(this.seen, cell.handlers);
    const anyhow = upright ? undefined : sceneAnyhow(scene);
    this.stationReaches =
      upright?.stationReaches ??
      (anyhow === undefined || anyhow === scene ? this.reaches : reachesIn(anyhow, scene.cell.handlers));
    this.carrying = upright?.carrying ?? new CarryingTest(scene, settings, programs, keeping);
    this.welding = new Welding(this.seen, settings, joints);
  }

  /**
   * The same facts, with all that was and will be worked out of them, for other settings: such as differ in nothing that a
   * fact rests on, but in the budget, the objective, and wishes other than for a grip at a place of its own.
   */
  under(settings: Settings): Facts {
    const views = new Kept<Facts>();
    const upright = { value: this.at(0) };
    const at = {
      value: (angle: number): Facts =>
        views.get(`${angle}`, () => {
          const view: unknown = Object.create(this.at(angle), { settings: { value: settings }, upright, at });
          return view as Facts;
        }),
    };
    return at.value(this.angle);
  }

  /** The facts with the work table at an index angle; robots, parts, joints, grips and spots are the same objects. */
  at(angle: number): Facts {
    const zero = this.upright ?? this;
    if (angle === 0) return zero;
    return zero.atAngles.get(
      `${angle}`,
      () => new Facts(zero.scene, zero.settings, zero.programs, zero.keeping, angle, zero),
    );
  }

  /** The facts at every index angle of the work table; these alone where it stands still. */
  get everyAngle(): readonly Facts[] {
    return indexAngles(this.scene.cell).map((angle) => this.at(angle));
  }

  /** What is in the way of the table as it turns with these parts on it; undefined where nothing is. */
  turnBlocked(inPlace: PartSet): Refusal | undefined {
    if (this.upright) return this.upright.turnBlocked(inPlace);
    this.turnRoom ??= new TurnRoom(this.scene, this.settings);
    return this.turnRoom.blocked(inPlace);
  }

  /** A person sets it: no robot is asked about it. */
  private isByHand(part: number): boolean {
    return this.scene.parts[part]!.part.manual !== undefined;
  }

  /** Straight ways into place; none of a part that a person sets, for whom only `blocking` of the file counts. */
  approaches(part: number): readonly Approach[] {
    return this.approachTable.get(`${part}`, () =>
      this.isByHand(part) ? [] : approachesOf(this.seen, part, this.settings),
    );
  }

  private reach({ id }: Handler): HandlingReach {
    return this.reaches.get(id)!;
  }

  private stationReach({ id }: Handler): HandlingReach {
    return this.stationReaches.get(id)!;
  }

  /** Every grip of a part by every handling robot, best first; none of a part that a person sets. */
  grips(part: number): readonly Judged<Grip>[] {
    if (this.upright) return this.upright.grips(part);
    if (this.isByHand(part)) return [];
    return this.gripTable.get(`${part}`, () => {
      const { part: own } = this.scene.parts[part]!;
      const toOwn = inverse(own.pose);
      const seams = this.joints
        .filter(({ a, b }) => a === part || b === part)
        .flatMap(({ seams: all }) =>
          all.map(({ from, to }) => ({ from: place(toOwn, from), to: place(toOwn, to) })),
        );
      const points = pointsAlong(seams);
      const wished = wishesOf(this.scene.weldment, this.settings).flatMap((wish) =>
        'grip' in wish && wish.grip === own.id ? [wish] : [],
      );
      const grips = gripsOf(own, this.scene.cell, points, this.settings, wished);
      const { centre } = this.scene.parts[part]!.own;
      const rests = this.rests(part).flatMap(({ face, refusal }) => (refusal ? [] : [face]));
      const keepOuts = this.everyAngle.flatMap(({ seen }) => seen.keepOuts);
      const around = { ...this.scene, keepOuts };
      const meets = (grip: Grip) => obstaclesMet(around, part, grip, rests, this.settings);
      const spared = (grip: Grip): boolean =>
        wished.some(
          ({ face, position }) => position !== undefined && isGrip({ face, position }, seenGrip(grip)),
        );
      return dropDominated(own, centre, points, grips, meets, spared);
    });
  }

  usableGrips(part: number): readonly Grip[] {
    if (this.upright) return this.upright.usableGrips(part);
    return this.usableTable.get(`${part}`, () =>
      this.grips(part).flatMap(({ candidate, refusal }) => (refusal ? [] : [candidate])),
    );
  }

  rests(part: number): readonly Rest[] {
    const { id, shape } = this.scene.parts[part]!.part;
    return this.restTable.get(`${part}`, () => restsOf(id, shape, this.settings));
  }

  /** The spot at the infeed first, then every stable spot on the regrip table, then on the two-sided stand. */
  spots(part: number): readonly Spot[] {
    if (this.upright) return this.upright.spots(part);
    if (this.isByHand(part)) return [];
    return this.spotTable.get(`${part}`, () => {
      const { shape, rest } = this.scene.parts[part]!.part;
      const stable = this.rests(part).filter(({ refusal }) => refusal === undefined);
      const face = rest ?? stable[0]?.face;
      if (face === undefined) return [];
      const regrips = stable.flatMap(({ face: down }) => regripSpots(this.scene, shape, down));
      const stands = stable.flatMap(({ face: down }) => standSpots(this.scene, shape, down));
      return [infeedSpot(this.scene, shape, face), ...regrips, ...stands];
    });
  }

  take(part: number, grip: Grip, spot: Spot): Result<StationMotion, Refusal> {
    if (this.upright) return this.upright.take(part, grip, spot);
    const key = `take ${part} ${grip.id} ${this.spots(part).indexOf(spot)}`;
    return this.stationTable.get(key, () =>
      this.carried(this.stationReach(grip.robot).take(part, grip, spot), part, grip, spot.pose),
    );
  }

  setDown(part: number, grip: Grip, spot: Spot): Result<StationMotion, Refusal> {
    if (this.upright) return this.upright.setDown(part, grip, spot);
    const key = `down ${part} ${grip.id} ${this.spots(part).indexOf(spot)}`;
    return this.stationTable.get(key, () =>
      this.carried(this.stationReach(grip.robot).setDown(part, grip, spot), part, grip, spot.pose),
    );
  }

  /** Every branch of its arm by which a grip brings a part along an approach; at least one, or the reason against it. */
  place(part: number, grip: Grip, approach: Approach): Result<Iterable<GripMotion>, Refusal> {
    const key = `place ${part} ${grip.id} ${this.approaches(part).indexOf(approach)}`;
    return this.placeTable.get(key, () => {
      const motions = anyOf(this.reach(grip.robot).place(part, grip, approach));
      return this.carried(motions, part, grip, this.scene.parts[part]!.pose);
    });
  }

  /** A motion that the arm can do, if the pads carry the part in that pose too, and with the arm at its home. */
  private carried<T>(motion: Result<T, Refusal>, part: number, grip: Grip, pose: Pose): Result<T, Refusal> {
    const refusal = motion.ok ? this.carryRefusal(part, grip, pose) : undefined;
    return refusal ? { ok: false, error: refusal } : motion;
  }

  /** Why the pads of a grip do not carry a part in a pose, or with the arm at its home, wherever the arm gets. */
  carryRefusal(part: number, grip: Grip, pose: Pose): Refusal | undefined {
    return this.carrying.refusal(part, grip, pose) ?? this.carrying.homeRefusal(part, grip);
  }

  /** What `place` says, were every part carried by every grip. */
  placeUncarried(part: number, grip: Grip, approach: Approach): Result<Iterable<GripMotion>, Refusal> {
    return anyOf(this.reach(grip.robot).place(part, grip, approach));
  }

  gripperHits(part: number, grip: Grip, approach: Approach): GripperHits {
    const key = `${part} ${grip.id} ${this.approaches(part).indexOf(approach)}`;
    return this.hitTable.get(key, () => gripperHits(this.seen, part, grip, approach, this.settings));
  }

  /** Every branch of its arm by which a grip takes hold of a part in its final place, or why none does. */
  hold(part: number, grip: Grip): Result<Iterable<GripMotion>, Refusal> {
    return this.placeTable.get(`hold ${part} ${grip.id}`, () =>
      anyOf(this.reach(grip.robot).hold(part, grip)),
    );
  }

  /** What is on the flange of an arm with a grip: the gripper, and the gripper with the part. */
  load(part: number, grip: Grip): { readonly gripper: Load; readonly both: Load } {
    return this.reach(grip.robot).load(part, grip);
  }

  /** The arm of a grip as it holds a part in its final place by a motion. */
  standing(part: number, grip: Grip, motion: GripMotion): StandingArm {
    return this.reach(grip.robot).standing(part, grip, motion);
  }

  /** Whether an arm keeps clear of another one that stands still, in the strokes of a motion. */
  strokesClear(part: number, grip: Grip, motion: GripMotion, other: StandingArm): boolean {
    return this.reach(grip.robot).strokesClear(part, grip, motion, other);
  }

  /** What the gripper would hit while the arm takes hold of a part in its final place, holds it and leaves it. */
  holdHits(part: number, grip: Grip): GripperHits {
    return this.hitTable.get(`hold ${part} ${grip.id}`, () =>
      gripperHits(this.seen, part, grip, undefined, this.settings),
    );
  }

  /** Whether a part on its way into place would run over the metal of a tack that is already laid. */
  meetsBead(part: number, approach: Approach, site: TackSite): boolean {
    const key = `${part} ${this.approaches(part).indexOf(approach)} ${siteId(site)}`;
    return this.beadTable.get(key, () => {
      const back = negate(approach.direction);
      const { 'touch-tolerance': tolerance } = this.settings.motion;
      return sweepHits(this.scene.parts[part]!.solid, back, approach.distance, site.bead, tolerance);
    });
  }

  /** Chains of one robot with exactly `regrips` regrips, none that fewer would do, each the quickest of its kind. */
  chains(robot: Handler, part: number, regrips: number): readonly Chain[] {
    if (this.upright) return this.upright.chains(robot, part, regrips);
    const [infeed, ...spots] = this.spots(part);
    if (infeed === undefined) return [];
    const { layers, seen } = this.chainTable.get(`${robot.id} ${part}`, () => ({
      layers: [[{ spot: infeed, transfers: [], milliseconds: 0 }]],
      seen: new Set<string>(),
    }));
    const moves = {
      spots,
      grips: this.usableGrips(part).filter((grip) => grip.robot === robot),
      take: (grip: Grip, spot: Spot) => valueOf(this.take(part, grip, spot)),
      setDown: (grip: Grip, spot: Spot) => valueOf(this.setDown(part, grip, spot)),
    };
    while (layers.length <= regrips) layers.push(nextChains(layers.at(-1)!, moves, seen));
    return layers[regrips]!;
  }

  /**
   * Whether a part that is taken by some grips in turn, from where it `lies` by the last, meets those in place within
   * every limit, and with which remedies. The first part stands as its datum has it.
   */
  fitUp(part: number, taken: readonly Grip[], lies: Lying, inPlace: InPlace): Result<FitUp, Refusal> {
    if (this.upright) return this.upright.fitUp(part, taken, lies, inPlace);
    const { first, parts, located, seated } = inPlace;
    if (first === undefined) return { ok: true, value: { remedies: [], stated: [] } };
    const way = [taken[0]!.robot.id, ...taken.map(({ gripper, face }) => `${gripper.id} ${face}`)].join();
    const key = [part, lies.station, lies.face, way, first, ...[parts, located, seated].map(setKey)].join(
      '|',
    );
    return this.fitTable.get(key, () => {
      const rest = (one: number) => this.spots(one)[0]?.face ?? null;
      const others = this.joints
        .flatMap(({ a, b }) => (a === part ? [b] : b === part ? [a] : []))
        .filter((other, i, all) => has(parts, other) && all.indexOf(other) === i)
        .map((other) => partInPlace(other, rest(other), inPlace));
      const { scene, settings } = this;
      return fitUpOf({ scene, settings, part, others }, { rest: rest(part)!, grips: taken, lies });
    });
  }

  /** Length of the tacks on a seam, mm: by the rule, or what a short seam leaves between its end allowances. */
  tackLength(joint: Joint, seam: JointSeam): number {
    const thicker = Math.max(...seamThicknesses(this.scene, joint, seam));
    const least = leastLength(this.settings.tacks, thicker);
    const room = seam.length - 2 * endMargin(this.settings.tacks);
    return Math.min(least, Math.max(room, Math.min(10, seam.length)));
  }

  /**
   * The candidate sites of a seam. Their places are the same whoever lays them; the ways of the torch are those of one
   * welding robot, of the first unless another is named.
   */
  sites(joint: Joint, seam: JointSeam, robot?: string): readonly TackSite[] {
    return this.welding.sites(joint, seam, this.tackLength(joint, seam), robot);
  }

  /** The motion of a welding arm, of the first unless another is named, with the largest margin that lays a tack and suits. */
  torchMotion(site: TackSite, test: TorchTest, robot?: string): TorchMotion | undefined {
    return this.welding.motions(site, robot).firstThat(test);
  }

  /** Why it has no motion that suits; undefined where it has one. Dearer than to ask for the motion. */
  torchRefusal(site: TackSite, test: TorchTest, robot?: string): Refusal | undefined {
    return this.welding.motions(site, robot).refusal(test);
  }

  /** Whether a welding arm keeps clear of one that stands still, in the strokes of a tack; torch and gripper aside. */
  torchStrokesClear(motion: TorchMotion, other: StandingArm): boolean {
    return this.welding.strokesClear(motion, other);
  }

  /** The same at a posture alone. */
  torchPostureClear(robot: string, joints: Joints, other: StandingArm): boolean {
    return this.welding.postureClear(robot, joints, other);
  }

  /** Ways of a welding arm from the end of one of its tacks to the next. */
  betweenTacks(from: TorchMotion, to: TorchMotion): Routes {
    return this.welding.betweenTacks(from, to);
  }

  /** How a handling arm changes one gripper for another; undefined when it cannot get there and back. */
  change(robot: Handler, from: Gripper, to: Gripper): GripperChange | undefined {
    if (this.upright) return this.upright.change(robot, from, to);
    const key = `${robot.id}\n${from.id}\n${to.id}`;
    return this.changeTable.get(key, () => this.stationReach(robot).change(from, to));
  }

  /** How many candidates of each kind the proof speaks of. */
  get scope(): { parts: number; approaches: number; grips: number; rests: number; sites: number } {
    const parts = this.scene.parts.map((_, i) => i);
    const sum = (count: (part: number) => number): number =>
      parts.reduce((total, part) => total + count(part), 0);
    const seams = this.joints.flatMap((joint) => joint.seams.map((seam) => ({ joint, seam })));
    const atAll = (count: (facts: Facts) => number): number =>
      this.everyAngle.reduce((total, facts) => total + count(facts), 0);
    return {
      parts: parts.length,
      approaches: atAll((facts) => sum((part) => facts.approaches(part).length)),
      grips: sum((part) => this.grips(part).length),
      rests: sum((part) => this.rests(part).length),
      sites: atAll((facts) =>
        seams.reduce((total, { joint, seam }) => total + facts.sites(joint, seam).length, 0),
      ),
    };
  }
}

/** The branches of a grip, when there is one. */
function anyOf({ first, all }: Motions): Result<Iterable<GripMotion>, Refusal> {
  return first.ok ? { ok: true, value: all } : first;
}

const valueOf = <T, E>(result: Result<T, E>): T | undefined => (result.ok ? result.value : undefined);
