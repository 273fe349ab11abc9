import { place, rotate } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { along, distance, dot, length, scale, subtract, unit, type Vec3 } from '../geometry/vector.js';
import { tackBead } from '../model/bead.js';
import type { PlanJoint } from '../model/plan.js';
import type { SeamRun } from '../model/seam-relations.js';
import { direction } from './plan-frames.js';
import type { RuleContext } from './rule.js';
import type { StatedTack } from './stage-tacks.js';

/** A seam of the plan in the cell, with the parts it joins by index. Lengths in mm. */
export interface SeamPlace {
  readonly joint: PlanJoint;
  readonly id: string;
  readonly a: number;
  readonly b: number;
  readonly from: Vec3;
  /** Unit, from its start to its end. */
  readonly along: Vec3;
  readonly length: number;
  /** Unit, out of the seam into the open. */
  readonly open: Vec3;
}

/** A seam as its relations to others see it. */
export const seamRun = ({ from, along: way, length: size, open }: SeamPlace): SeamRun => ({
  from,
  to: along(from, way, size),
  open,
});

/** A tack as a piece of its seam, in the cell. */
export interface TackPlace {
  readonly seam: SeamPlace;
  readonly start: Vec3;
  readonly end: Vec3;
  readonly middle: Vec3;
}

/** No tack is longer, mm; such a number is another rule's matter. */
const LONGEST = 1e5;

const keyOf = (joint: string, seam: string): string => `${joint}\n${seam}`;

/** The seams of a plan, found by the tacks that name them. */
export class SeamPlaces {
  private readonly byName = new Map<string, SeamPlace>();

  /** Seams of unknown parts, without length or without an open direction are left to the rule joints-true. */
  constructor({ plan, scene, cell }: Pick<RuleContext, 'plan' | 'scene' | 'cell'>) {
    for (const joint of plan.joints) {
      const [a, b] = joint.between.map((id) => scene.index.get(id));
      if (a === undefined || b === undefined || a === b) continue;
      for (const { id, from, to, open } of joint.seams) {
        const key = keyOf(joint.id, id);
        const way = direction(subtract(to, from));
        const out = direction(open);
        if (way === undefined || out === undefined || this.byName.has(key)) continue;
        const turned = (v: Vec3): Vec3 => rotate(cell.weldmentPose.turn, v);
        const start = place(cell.weldmentPose, from);
        const size = distance(from, to);
        this.byName.set(key, {
          joint,
          id,
          a,
          b,
          from: start,
          along: turned(way),
          length: size,
          open: turned(out),
        });
      }
    }
  }

  all(): readonly SeamPlace[] {
    return [...this.byName.values()];
  }

  of(tack: StatedTack): SeamPlace | undefined {
    return this.byName.get(keyOf(tack.joint, tack.seam));
  }

  /** The metal of a tack; undefined when its seam is unknown or its size is none. */
  bead(tack: StatedTack): Solid | undefined {
    const place = this.tack(tack);
    if (place === undefined || !(tack.length <= LONGEST) || !(tack.leg <= LONGEST)) return undefined;
    const { along: way, open } = place.seam;
    const square = subtract(open, scale(way, dot(open, way)));
    if (length(square) < 1e-3) return undefined;
    return tackBead(place.start, way, unit(square), tack.length, tack.leg);
  }

  /** Where a tack lies; undefined when its seam is unknown. */
  tack(tack: StatedTack): TackPlace | undefined {
    const seam = this.of(tack);
    if (seam === undefined) return undefined;
    const at = (way: number): Vec3 => along(seam.from, seam.along, way);
    return {
      seam,
      start: at(tack.start),
      end: at(tack.start + tack.length),
      middle: at(tack.start + tack.length / 2),
    };
  }
}
