import { Kept } from '../base/kept.js';
import { has, setKey, withMember, type PartSet } from '../base/part-set.js';
import { ok, type Result } from '../base/result.js';
import type { Facts } from '../facts/facts.js';
import type { Joint, JointSeam } from '../facts/joints.js';
import { seamAccess } from '../facts/seam-access.js';
import { siteId, tackLeg, type TackSite } from '../facts/tack-sites.js';
import { clearOf, type TorchMotion } from '../facts/torch-motion.js';
import { spaceHits } from '../facts/torch-space.js';
import type { TorchWay } from '../facts/torch-ways.js';
import type { Solid } from '../geometry/solid.js';
import { along, distance, dot, subtract, type Vec3 } from '../geometry/vector.js';
import { throat, temporaryStrength } from '../mechanics/tack-strength.js';
import { gripperSolid, padsInCell } from '../model/placement.js';
import type { Refusal } from '../model/verdict.js';
import type { TackWish } from '../model/wish.js';
import type { LaidTack } from '../rules/assembly.js';
import { armsOf, type HeldGrip } from './held-grip.js';
import { fewestTacks, seamCover, type SeamCover } from './seam-row.js';
import { isAboutJoint, withWished, type TackAsk } from './tack-ask.js';
import { coverJoint } from './tack-covering.js';

/** A tack that has been decided on, with how the torch reaches it. */
export interface ChosenTack extends LaidTack {
  readonly site: TackSite;
  readonly leg: number;
  /** Torch motions with the gripper away: one of each welding robot that can lay it, at least one; in the order of the cell. */
  readonly free: readonly TorchMotion[];
  /** Torch motions while the part is held, likewise; none when the gripper or its magnet is too near. */
  readonly held: readonly TorchMotion[];
}

/** Joints between a newcomer and the parts in place. */
export const joinedBy = (facts: Facts, part: number, inPlace: PartSet): readonly Joint[] =>
  facts.joints.filter(({ a, b }) => (a === part && has(inPlace, b)) || (b === part && has(inPlace, a)));

/** Temperature at which a tack's strength is stated, C; settings.reductions.tack covers a fresh, hot one. */
const COLD = 20;

/** The tack at a site, whoever lays it. */
export function tackAt(facts: Facts, site: TackSite): Pick<ChosenTack, keyof LaidTack | 'site' | 'leg'> {
  const { leg } = site;
  const { a, b } = site.joint;
  const strengths = [a, b].map((part) =>
    temporaryStrength(
      site.length,
      throat(leg, site.seam.gap),
      facts.scene.parts[part]!.part.material.steel!,
      COLD,
    ),
  );
  const { middle: at, along: way, length } = site;
  return { site, leg, a, b, at, along: way, length, strength: Math.min(...strengths) };
}

/** A gripper that holds a part: its envelope and its pads in the cell. */
interface Holder {
  readonly solid: Solid;
  readonly pads: readonly Vec3[];
  readonly padRadius: number;
  readonly arcDistance: number;
}

/** Distance from the nearest point of a tack to the rim of the nearest pad, mm. */
function nearestPad(site: TackSite, holder: Holder): number {
  const toTack = (pad: Vec3): number => {
    const reach = Math.min(site.length, Math.max(0, dot(subtract(pad, site.from), site.along)));
    return distance(pad, along(site.from, site.along, reach));
  };
  return Math.min(...holder.pads.map(toTack)) - holder.padRadius;
}

/**
 * Torch poses of a site that clear the arms that hold, but find no way there past them, after which no other is tried; of
 * two that differ by the bend of the wrist one is enough.
 */
const MOST_WITHOUT_WAY = 20;

/** A candidate site that can be laid with the parts in place, and how while the part is held. */
interface OpenSite {
  readonly site: TackSite;
  readonly free: readonly TorchMotion[];
  readonly held: readonly TorchMotion[];
}

const coverOf = (facts: Facts, joint: Joint, seam: JointSeam, open: readonly OpenSite[]): SeamCover =>
  seamCover(
    facts,
    joint,
    seam,
    open.map(({ site }) => site),
    open.map(({ held }) => held.length > 0),
  );

/** A part that joins those in place, and what is asked of its tacks beside the rules. */
export interface ToTack {
  readonly part: number;
  readonly inPlace: PartSet;
  readonly asked?: TackAsk | undefined;
}

/** How far the sites of a seam go. */
export interface Coverage {
  readonly open: number;
  readonly covers: boolean;
}

/** What layTacks comes to. */
export interface Layout {
  readonly tacks: readonly ChosenTack[];
  readonly refusal: Refusal | undefined;
}

/** Lays tacks on the seams of newcomers. Answers that do not depend on the whole state are kept. */
export class TackLayouts {
  private readonly covers: Kept<Result<readonly (readonly TackSite[])[], Refusal>>;
  private readonly holders: Kept<Holder>;
  private readonly freeMotions: Kept<TorchMotion | undefined>;
  private readonly besideGripper: Kept<readonly TorchWay[]>;
  private readonly seamRefusals: Kept<Refusal>;

  constructor(private readonly facts: Facts) {
    this.covers = new Kept(facts.keeping);
    this.holders = new Kept(facts.keeping);
    this.freeMotions = new Kept(facts.keeping);
    this.besideGripper = new Kept(facts.keeping);
    this.seamRefusals = new Kept(facts.keeping);
  }

  /**
   * The tacks of every seam between a newcomer and the parts in place, or the seam that cannot be covered. `holds` are
   * there while it is tacked: none when everything stands by itself.
   */
  lay({ part, inPlace, asked }: ToTack, holds: readonly HeldGrip[]): Layout {
    const present = withMember(inPlace, part);
    const tacks: ChosenTack[] = [];
    for (const joint of joinedBy(this.facts, part, inPlace)) {
      const laid = this.layJoint(joint, present, holds, asked);
      if (laid.refusal) return laid;
      tacks.push(...laid.tacks);
    }
    return { tacks, refusal: undefined };
  }

  /** How many sites of a seam are open with some parts present and nothing held, and whether they cover it. */
  coverage(joint: Joint, seam: JointSeam, present: PartSet): Coverage {
    if (throat(tackLeg(joint, this.facts.settings), seam.gap) <= 0) return { open: 0, covers: false };
    const own = this.openSites(joint, seam, present, []);
    const covers = fewestTacks(coverOf(this.facts, joint, seam, own)) !== undefined;
    return { open: own.length, covers };
  }

  /** Why a seam with so many open sites cannot be covered. */
  whyUncovered(joint: Joint, seam: JointSeam, present: PartSet, open: number): Refusal {
    const leg = tackLeg(joint, this.facts.settings);
    return throat(leg, seam.gap) <= 0 ? gapRefusal(seam, leg) : this.seamRefusal(joint, seam, open, present);
  }

  private layJoint(
    joint: Joint,
    present: PartSet,
    holds: readonly HeldGrip[],
    asked: TackAsk | undefined,
  ): Layout {
    const leg = tackLeg(joint, this.facts.settings);
    const open: (readonly OpenSite[])[] = [];
    for (const seam of joint.seams) {
      if (throat(leg, seam.gap) <= 0) return { tacks: [], refusal: gapRefusal(seam, leg) };
      const all = this.openSites(joint, seam, present, holds);
      const own = asked ? all.filter(({ site }) => asked.allows(site)) : all;
      if (fewestTacks(coverOf(this.facts, joint, seam, own)) === undefined)
        return { tacks: [], refusal: this.seamRefusal(joint, seam, own.length, present) };
      open.push(own);
    }
    const wished = (asked?.wished ?? []).filter((wish) => isAboutJoint(this.facts, wish, joint));
    const covered = this.cover(joint, open, wished);
    if (!covered.ok) return { tacks: [], refusal: covered.error };
    const chosen = covered.value;
    const tacks = open.flatMap((own, i) =>
      own.filter(({ site }) => chosen[i]!.includes(site)).map((place) => this.chosen(place)),
    );
    return { tacks, refusal: undefined };
  }

  /** Whether any tack at all could be laid while a hold of the newcomer lasts. */
  anyWhileHeld(part: number, inPlace: PartSet, hold: HeldGrip): boolean {
    const present = withMember(inPlace, part);
    return joinedBy(this.facts, part, inPlace).some((joint) =>
      joint.seams.some((seam) =>
        this.robots.some((robot) =>
          this.facts.sites(joint, seam, robot).some((site) => this.heldMotion(robot, site, present, [hold])),
        ),
      ),
    );
  }

  /** Why no tack can be laid while a grip holds: its magnet is too near everywhere, or it is in the way. */
  noneWhileHeld(part: number, inPlace: PartSet, hold: HeldGrip): Refusal {
    const { grip } = hold;
    const holder = this.holder(hold);
    const sites = joinedBy(this.facts, part, inPlace).flatMap((joint) =>
      joint.seams.flatMap((seam) => this.facts.sites(joint, seam)),
    );
    const farthest = Math.max(0, ...sites.map((site) => nearestPad(site, holder)));
    const subjects = [this.facts.scene.parts[part]!.part.id, grip.gripper.id, grip.face];
    if (farthest >= holder.arcDistance) return { code: 'torch-meets-gripper', subjects };
    return { code: 'pad-too-near', subjects, value: farthest, limit: holder.arcDistance, unit: 'mm' };
  }

  /** A tack at one site by itself, and how a welding robot lays it while `holds` last; undefined where it cannot. */
  alone(
    robot: string,
    site: TackSite,
    present: PartSet,
    holds: readonly HeldGrip[],
  ): { readonly tack: ChosenTack; readonly motion: TorchMotion } | undefined {
    const free = this.freeMotion(robot, site, present);
    const motion = free && holds.length > 0 ? this.heldMotion(robot, site, present, holds) : free;
    return free && motion && { tack: this.chosen({ site, free: [free], held: [motion] }), motion };
  }

  private openSites(joint: Joint, seam: JointSeam, present: PartSet, holds: readonly HeldGrip[]): OpenSite[] {
    const byRobot = this.robots.map((robot) => ({ robot, sites: this.facts.sites(joint, seam, robot) }));
    return byRobot[0]!.sites.flatMap((site, i) => {
      const own = byRobot.flatMap(({ robot, sites }) => {
        const free = this.freeMotion(robot, sites[i]!, present);
        if (!free) return [];
        return [{ free, held: holds.length > 0 ? this.heldMotion(robot, sites[i]!, present, holds) : free }];
      });
      if (own.length === 0) return [];
      return [{ site, free: own.map(({ free }) => free), held: own.flatMap(({ held }) => held ?? []) }];
    });
  }

  private get robots(): readonly string[] {
    return this.facts.scene.cell.welders.map(({ id }) => id);
  }

  /** The best torch motion of a welding robot that is clear of the parts present, whatever holds them. */
  private freeMotion(robot: string, site: TackSite, present: PartSet): TorchMotion | undefined {
    return this.freeMotions.get(`${siteId(site)} ${robot} ${setKey(present)}`, () =>
      this.facts.torchMotion(site, clearOf(present), robot),
    );
  }

  /** The best torch motion that is also clear of the grippers and arms that hold, on its way there and back too. */
  private heldMotion(
    robot: string,
    site: TackSite,
    present: PartSet,
    holds: readonly HeldGrip[],
  ): TorchMotion | undefined {
    const { 'touch-tolerance': tolerance } = this.facts.settings.motion;
    const grippers = holds.map((hold) => this.holder(hold).solid);
    const beside = holds.map((hold) => this.beside(robot, site, hold));
    if (beside.some((ways) => ways.length === 0)) return undefined;
    const arms = armsOf(this.facts, holds);
    const free = clearOf(present);
    const without = new Set<string>();
    return this.facts.torchMotion(
      site,
      {
        way: (way) => free.way(way) && beside.every((ways) => ways.includes(way)),
        posture: (joints) => arms.every((arm) => this.facts.torchPostureClear(robot, joints, arm)),
        motion: (motion) => {
          const posture = `${motion.branch >> 1} ${motion.start.turn.join()}`;
          if (without.size >= MOST_WITHOUT_WAY || without.has(posture)) return false;
          if (!free.motion(motion)) return false;
          if (grippers.some((gripper) => spaceHits(motion.neck, gripper, tolerance))) return false;
          if (!arms.every((arm) => this.facts.torchStrokesClear(motion, arm))) return false;
          const way = motion.come.first(present, arms) && motion.go.first(present, arms);
          if (!way) without.add(posture);
          return way !== undefined;
        },
      },
      robot,
    );
  }

  /** Torch ways of a site that stay clear of a holding gripper; none where the arc is too near its magnet. */
  private beside(robot: string, site: TackSite, hold: HeldGrip): readonly TorchWay[] {
    const key = `${hold.part} ${hold.grip.id} ${siteId(site)} ${robot}`;
    return this.besideGripper.get(key, () => {
      const holder = this.holder(hold);
      const { 'touch-tolerance': tolerance } = this.facts.settings.motion;
      const far = nearestPad(site, holder) >= holder.arcDistance;
      return far ? site.ways.filter(({ space }) => !spaceHits(space, holder.solid, tolerance)) : [];
    });
  }

  private holder({ part, grip }: HeldGrip): Holder {
    const key = `${part} ${grip.id}`;
    return this.holders.get(key, () => {
      const { part: own, pose } = this.facts.scene.parts[part]!;
      return {
        solid: gripperSolid(own.shape, pose, grip, grip.gripper),
        pads: padsInCell(own.shape, pose, grip, grip.gripper).pads.map(({ at }) => at),
        padRadius: grip.gripper.padDiameter / 2,
        arcDistance: grip.gripper.arcDistance,
      };
    });
  }

  /** By seam the sites that the program of the joint takes; each seam can be covered. */
  private cover(
    joint: Joint,
    open: readonly (readonly OpenSite[])[],
    wished: readonly TackWish[],
  ): Result<readonly (readonly TackSite[])[], Refusal> {
    const marks = open.map((own) =>
      own.map(({ site, held }) => `${site.start}${held.length > 0 ? 'h' : ''}`).join(' '),
    );
    const { sides } = this.facts.settings.tacks;
    const asked = wished.length === 0 ? '' : ` ${JSON.stringify(wished)}`;
    return this.covers.get(`${joint.id} ${marks.join('|')}${asked}`, () => {
      const covers = withWished(
        joint.seams.map((seam, i) => coverOf(this.facts, joint, seam, open[i]!)),
        wished,
      );
      return covers.ok ? ok(coverJoint(covers.value, sides)!) : covers;
    });
  }

  private chosen({ site, free, held }: OpenSite): ChosenTack {
    return { ...tackAt(this.facts, site), free, held };
  }

  /** Names the seam, how many of its sites are open and where, and what is against most of the others. */
  private seamRefusal(joint: Joint, seam: JointSeam, open: number, present: PartSet): Refusal {
    return this.seamRefusals.get(`${seam.id} ${setKey(present)}`, () => {
      const { stretches, sites, against } = seamAccess(this.facts, joint, seam, present);
      const names = [joint.a, joint.b].map((part) => this.facts.scene.parts[part]!.part.id);
      const [first, last] = [stretches[0], stretches.at(-1)];
      return {
        code: 'seam-not-coverable',
        subjects: [seam.id, ...names],
        ...{ value: open, unit: 'sites open' },
        counts: { sites, ...(first && last && { from: first[0], to: last[1] }) },
        ...(against[0] && { nearest: against[0].nearest }),
      };
    });
  }
}

export const gapRefusal = (seam: JointSeam, leg: number): Refusal => ({
  code: 'gap-too-wide',
  subjects: [seam.id],
  value: seam.gap,
  limit: leg,
  unit: 'mm',
});
