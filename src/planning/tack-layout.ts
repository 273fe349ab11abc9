import { has, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import type { Joint } from '../facts/joints.js';
import { wayIsClear, type TackSite, type TorchMotion } from '../facts/tack-sites.js';
import { distance } from '../geometry/vector.js';
import { throat, temporaryStrength } from '../mechanics/tack-strength.js';
import { gripperSolid, padsInCell } from '../model/placement.js';
import type { Refusal } from '../model/verdict.js';
import type { LaidTack } from '../rules/assembly.js';
import { coverSeam, largestPitch } from './tack-covering.js';

/** A tack that has been decided on, with how the torch reaches it. */
export interface ChosenTack extends LaidTack {
  readonly site: TackSite;
  readonly leg: number;
  /** Torch motion with the gripper away. */
  readonly free: TorchMotion;
  /** Torch motion while the part is held; undefined when the gripper or its magnet is too near. */
  readonly held: TorchMotion | undefined;
}

/** Joints between a newcomer and the parts in place. */
export const joinedBy = (facts: Facts, part: number, inPlace: PartSet): readonly Joint[] =>
  facts.joints.filter(({ a, b }) => (a === part && has(inPlace, b)) || (b === part && has(inPlace, a)));

/** The torch motion of the first torch way that is clear, reachable and (while held) away from the gripper. */
function motionAt(
  facts: Facts,
  site: TackSite,
  present: PartSet,
  holder: Holder | undefined,
): TorchMotion | undefined {
  if (holder && nearestPad(site, holder) < holder.arcDistance) return undefined;
  for (const way of site.ways) {
    if (!wayIsClear(way, present, holder?.solid, facts.settings.motion['touch-tolerance'])) continue;
    const motion = facts.torchMotion(site, way);
    if (motion.ok) return motion.value;
  }
  return undefined;
}

/** A gripper that holds the newcomer: its envelope and its pads in the cell. */
interface Holder {
  readonly solid: ReturnType<typeof gripperSolid>;
  readonly pads: readonly (readonly [number, number, number])[];
  readonly padRadius: number;
  readonly arcDistance: number;
}

export function holderOf(facts: Facts, part: number, grip: Grip): Holder {
  const { part: own, pose } = facts.scene.parts[part]!;
  return {
    solid: gripperSolid(own.shape, pose, grip, grip.gripper),
    pads: padsInCell(own.shape, pose, grip, grip.gripper).centres,
    padRadius: grip.gripper.padDiameter / 2,
    arcDistance: grip.gripper.arcDistance,
  };
}

/** Distance from the nearest point of a tack to the rim of the nearest pad, mm. */
function nearestPad(site: TackSite, holder: Holder): number {
  const toLine = (pad: readonly [number, number, number]): number => {
    const along = Math.min(
      site.length,
      Math.max(
        0,
        pad.reduce((sum, x, i) => sum + (x - site.from[i]!) * site.along[i]!, 0),
      ),
    );
    return distance(
      pad,
      [0, 1, 2].map((i) => site.from[i]! + site.along[i]! * along) as unknown as typeof pad,
    );
  };
  return Math.min(...holder.pads.map(toLine)) - holder.padRadius;
}

/** Leg of the tacks of a joint, mm: never more than the final leg. */
export const tackLeg = (facts: Facts, joint: Joint): number => Math.min(facts.settings.tacks.leg, joint.leg);

function chosenTack(
  facts: Facts,
  site: TackSite,
  free: TorchMotion,
  held: TorchMotion | undefined,
): ChosenTack {
  const leg = tackLeg(facts, site.joint);
  const steels = [site.joint.a, site.joint.b].map((part) => facts.scene.parts[part]!.part.material.steel!);
  return {
    site,
    leg,
    free,
    held,
    a: site.joint.a,
    b: site.joint.b,
    at: site.middle,
    along: site.along,
    length: site.length,
    strength: Math.min(...steels.map((steel) => temporaryStrength(site.length, throat(leg, 0), steel, 20))),
  };
}

/**
 * The tacks of every seam between a newcomer and the parts in place, or the seam that cannot be covered. `grip` is
 * the grip that holds the newcomer while it is tacked; undefined when it stands by itself.
 */
export function layTacks(
  facts: Facts,
  part: number,
  inPlace: PartSet,
  present: PartSet,
  grip: Grip | undefined,
): { readonly tacks: readonly ChosenTack[]; readonly refusal: Refusal | undefined } {
  const holder = grip ? holderOf(facts, part, grip) : undefined;
  const tacks: ChosenTack[] = [];
  for (const joint of joinedBy(facts, part, inPlace))
    for (const seam of joint.seams) {
      const open = facts.sites(joint, seam).flatMap((site) => {
        const free = motionAt(facts, site, present, undefined);
        return free ? [{ site, free, held: holder ? motionAt(facts, site, present, holder) : free }] : [];
      });
      const thinner = Math.min(...[joint.a, joint.b].map((i) => facts.scene.parts[i]!.thickness));
      const chosen = coverSeam(
        {
          seamLength: seam.length,
          tackLength: facts.tackLength(joint, seam),
          pitch: largestPitch(thinner, facts.settings),
          sites: open.map(({ site }) => site),
          whileHeld: open.map(({ held }) => held !== undefined),
        },
        facts.settings,
      );
      if (!chosen) return { tacks: [], refusal: seamRefusal(facts, joint, seam.id, open.length) };
      const picked = open.filter(({ site }) => chosen.includes(site));
      tacks.push(...picked.map(({ site, free, held }) => chosenTack(facts, site, free, held)));
    }
  return { tacks, refusal: undefined };
}

function seamRefusal(facts: Facts, joint: Joint, seam: string, sites: number): Refusal {
  const names = [joint.a, joint.b].map((part) => facts.scene.parts[part]!.part.id);
  return { code: 'seam-not-coverable', subjects: [seam, ...names], value: sites, unit: 'sites open' };
}
