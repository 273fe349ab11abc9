import { Kept } from '../base/kept.js';
import { compose, IDENTITY, inverse, place, rotate, type Pose } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { isBeyond } from '../kinematics/reach-bound.js';
import { motionOf, movedCell, type CellMove } from '../model/cell-move.js';
import { torchFlange, wristAt } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Facts } from './facts.js';
import { isReached, type EnoughSites } from './reach-survey.js';
import { ReachTries, robotsFor, type ReachOptions, type ReachTarget, type ReachTry } from './reach-tries.js';
import type { TackSite } from './tack-sites.js';
import type { TorchWay } from './torch-ways.js';
import { welderNamed, type Welder } from '../model/cell.js';

type SeamTarget = Extract<ReachTarget, { readonly seam: unknown }>;

/** A solid that nothing meets. */
const unmet = (solid: Solid): Solid => ({ ...solid, pieces: [] });

/** The scene after a change, with nothing in it that could be met. */
function emptied(scene: Scene, move: CellMove, motion: Pose): Scene {
  const withTable = move.moved.what === 'table';
  return {
    ...scene,
    cell: movedCell(scene.cell, move),
    parts: scene.parts.map((part) => ({
      ...part,
      pose: withTable ? compose(motion, part.pose) : part.pose,
      solid: unmet(part.solid),
    })),
    table: unmet(scene.table),
    keepOuts: [],
  };
}

/** Ways of which some roll about the wire may be in reach: a roll takes the wrist centre round a circle about the wire. */
function waysInReach(
  ways: readonly TorchWay[],
  motion: Pose,
  { arm, base, torch }: Welder,
): readonly TorchWay[] {
  const [x, y, z] = wristAt(torchFlange(IDENTITY, torch), arm);
  const toBase = compose(inverse(base), motion);
  return ways.filter(({ start }) => !isBeyond(arm, place(toBase, place(start, [0, 0, z])), Math.hypot(x, y)));
}

/** A site that goes along with the table, as far as the arm is concerned: what it would meet stays behind. */
const movedSite = (site: TackSite, motion: Pose, welder: Welder): TackSite => ({
  ...site,
  from: place(motion, site.from),
  to: place(motion, site.to),
  middle: place(motion, site.middle),
  along: rotate(motion.turn, site.along),
  open: rotate(motion.turn, site.open),
  ways: waysInReach(site.ways, motion, welder).map((way) => ({
    ...way,
    start: compose(motion, way.start),
    end: compose(motion, way.end),
  })),
});

/** Whether a change can have any effect on a target. */
export function concerns({ moved }: CellMove, cell: Scene['cell'], target: ReachTarget): boolean {
  switch (moved.what) {
    case 'robot':
      return robotsFor(cell, target).includes(moved.id);
    case 'table':
    case 'infeed':
      return target.station === moved.what;
  }
}

/**
 * Rules out changes of a cell without building the facts of each changed cell anew. The ways to a target are those of
 * the given cell moved along with what is moved, taken with no keep-out there, with grips that others beat, and with
 * nothing in the way: whatever else the changed cell holds, it has no way that is not among them. So a target that is
 * missed here is missed there; one that is reached here may still be missed, and the survey of the changed cell says.
 */
export class MovedReach {
  private readonly options: ReachOptions;
  private readonly fewSites = new Kept<readonly number[]>();
  /** How many questions were put to arms. */
  private asked = 0;

  /** `facts` of the cell without its keep-outs. */
  constructor(
    private readonly facts: Facts,
    private readonly enough: EnoughSites,
  ) {
    this.options = {
      grips: (part) =>
        facts
          .grips(part)
          .filter(({ refusal }) => refusal === undefined || refusal.code === 'dominated')
          .map(({ candidate }) => candidate),
      spots: (part) => facts.spots(part),
      approaches: (part) => facts.approaches(part).filter(({ fixedHit }) => fixedHit === undefined),
      sites: (joint, seam, robot) => facts.sites(joint, seam, robot),
    };
  }

  get questions(): number {
    return this.asked;
  }

  /** Asks for targets in the cell after one change; false is proof that no robot reaches the target there. */
  after(move: CellMove): (target: ReachTarget) => boolean {
    const { scene, settings } = this.facts;
    const motion = motionOf(scene.cell, move);
    const moved = emptied(scene, move, motion);
    const tries = new ReachTries(moved, settings, this.moved(move, motion, moved.cell));
    return (target) => {
      const robots = robotsFor(scene.cell, target).map((robot) => tries.groups(target, robot));
      const isOpen = (group: readonly ReachTry[]): boolean =>
        group.some((ask) => {
          this.asked += 1;
          return ask().ok;
        });
      if (!('seam' in target)) return robots.some((groups) => groups.some(isOpen));
      // Each site may be tacked by any of the welding robots.
      const isSiteOpen = (i: number): boolean => robots.some((groups) => isOpen(groups[i]!));
      const few = this.few(target);
      const open = new Map(few.map((i) => [i, isSiteOpen(i)]));
      if (few.length > 0 && ![...open.values()].includes(false)) return true;
      const all = robots[0]!.map((_, i) => open.get(i) ?? isSiteOpen(i));
      return isReached(this.facts, target, all, this.enough);
    };
  }

  /** A few sites of a seam that are enough, asked for first: no site can be left out. Empty when not even all are. */
  private few(target: SeamTarget): readonly number[] {
    return this.fewSites.get(target.seam.id, () => {
      const sites = this.facts.sites(target.joint, target.seam);
      const isEnough = (kept: ReadonlySet<number>): boolean =>
        this.enough(
          target.joint,
          target.seam,
          sites.filter((_, i) => kept.has(i)),
        );
      const kept = new Set(sites.keys());
      if (!isEnough(kept)) return [];
      for (const i of sites.keys()) {
        kept.delete(i);
        if (!isEnough(kept)) kept.add(i);
      }
      return [...kept];
    });
  }

  private moved({ moved }: CellMove, motion: Pose, cell: Scene['cell']): ReachOptions {
    const { options } = this;
    const movedSites =
      (by: Pose): ReachOptions['sites'] =>
      (joint, seam, robot) =>
        options.sites(joint, seam, robot).map((site) => movedSite(site, by, welderNamed(cell, robot)!));
    if (moved.what === 'robot')
      return {
        ...options,
        sites: movedSites(IDENTITY),
      };
    if (moved.what === 'infeed')
      return {
        ...options,
        spots: (part) =>
          options
            .spots(part)
            .map((spot) =>
              spot.station === 'infeed' ? { ...spot, pose: compose(motion, spot.pose) } : spot,
            ),
      };
    return {
      ...options,
      approaches: (part) =>
        options
          .approaches(part)
          .map((approach) => ({ ...approach, direction: rotate(motion.turn, approach.direction) })),
      sites: movedSites(motion),
    };
  }
}
