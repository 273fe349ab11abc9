import { members } from '../base/part-set.js';
import { rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { inverse, place, rotate, toRollPitchYaw, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { cellView } from '../report/inspect-cell.js';
import type {
  ApproachView,
  ContactView,
  Inspection,
  JointMissView,
  JointView,
  PartView,
} from '../report/inspection.js';

export type { Inspection } from '../report/inspection.js';

const stated = (v: Vec3, digits: number): Vec3 => [
  rounded(v[0], digits),
  rounded(v[1], digits),
  rounded(v[2], digits),
];
const point = (v: Vec3): Vec3 => stated(v, 4);
const direction = (v: Vec3): Vec3 => stated(v, 6);

/** Reads facts, in the cell frame, as the weldment file sees them. */
class Inspector {
  private readonly toWeldment: Pose;

  constructor(private readonly facts: Facts) {
    this.toWeldment = inverse(facts.scene.cell.weldmentPose);
  }

  private id(part: number): string {
    return this.facts.scene.parts[part]!.part.id;
  }

  private approaches(part: number): ApproachView[] {
    return this.facts.approaches(part).map((approach) => ({
      direction: direction(rotate(this.toWeldment.turn, approach.direction)),
      hits: members(approach.hits).map((other) => this.id(other)),
      squeezes: approach.squeezes.map(([p, q]) => [this.id(p), this.id(q)] as const),
      fixed: approach.fixedHit ?? null,
    }));
  }

  parts(): PartView[] {
    return this.facts.scene.parts.map(({ part, mass, solid }, i) => ({
      id: part.id,
      shape: part.shape,
      at: point(part.pose.at),
      turn: stated(toRollPitchYaw(part.pose.turn), 5),
      mass: rounded(mass, 6),
      massFrom: part.massGiven === undefined ? 'derived' : 'given',
      centre: point(place(this.toWeldment, solid.centre)),
      material: part.material.name,
      ...(part.manual && { manual: part.manual }),
      approaches: this.approaches(i),
    }));
  }

  contacts(): ContactView[] {
    return this.facts.scene.contacts.map(({ a, b, patches, bearing }) => ({
      between: [this.id(a), this.id(b)],
      patches: patches.map(({ faceA, faceB, area, gap }) => ({ faces: [faceA, faceB], area, gap })),
      area: rounded(
        patches.reduce((sum, { area }) => sum + area, 0),
        6,
      ),
      gap: Math.max(...patches.map(({ gap }) => gap)),
      bearings: bearing.length,
    }));
  }

  joints(): JointView[] {
    return this.facts.joints.map(({ id, a, b, type, leg, origin, seams }) => ({
      ...{ id, type, leg, origin },
      between: [this.id(a), this.id(b)],
      seams: seams.map((seam) => ({
        id: seam.id,
        from: point(seam.from),
        to: point(seam.to),
        length: rounded(seam.length, 4),
        open: direction(seam.open),
      })),
    }));
  }

  misses(): JointMissView[] {
    return this.facts.jointMisses.map(({ wish, at, why }) => ({
      joint: this.facts.joints[at]!.id,
      between: wish.between,
      why,
    }));
  }
}

/**
 * What the input implies, as plain data. Without a cell (facts made with a stand-in for one) nothing is said about
 * rests, grips and reach, and the table of the stand-in still counts as what the weldment stands on.
 */
export function inspect(facts: Facts, withCell = true): Inspection {
  const inspector = new Inspector(facts);
  return {
    weldment: facts.scene.weldment.name,
    parts: inspector.parts(),
    contacts: inspector.contacts(),
    joints: inspector.joints(),
    jointMisses: inspector.misses(),
    ...(withCell ? { cell: cellView(facts) } : {}),
  };
}
