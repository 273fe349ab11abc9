import { Kept } from '../base/kept.js';
import { setKey, setOf, withMember, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Joint, JointSeam } from '../facts/joints.js';
import type { Refusal } from '../model/verdict.js';
import type { ConflictFact, FactTable } from './conflict-facts.js';
import { joinedBy, TackLayouts, type Coverage } from './tack-layout.js';

/** A seam that is not covered with some parts present. */
interface Uncovered {
  readonly facts: Facts;
  readonly joint: Joint;
  readonly seam: JointSeam;
  readonly present: PartSet;
  readonly open: number;
}

/**
 * Seams and the torch as facts, one a seam: whether it can be covered hangs on the parts present, whichever of its own two came later.
 * A part more only takes sites away, so that a seam that its own two parts alone leave uncovered always is.
 */
export class ConflictSeams {
  private readonly layouts = new Map<number, TackLayouts>();
  private readonly coverages = new Kept<Coverage>();
  /** By fact, with how the most sites were open and yet not enough. */
  private readonly nearest = new Map<ConflictFact, Uncovered>();
  private readonly told = new Map<ConflictFact, Refusal>();

  constructor(
    private readonly facts: Facts,
    private readonly table: FactTable,
  ) {}

  layoutsAt(facts: Facts): TackLayouts {
    const layouts = this.layouts.get(facts.angle) ?? new TackLayouts(facts);
    this.layouts.set(facts.angle, layouts);
    return layouts;
  }

  /** Seams between a newcomer and the parts in place that cannot be covered at an index angle, with nothing held. */
  uncovered(facts: Facts, part: number, inPlace: PartSet): readonly ConflictFact[] {
    const present = withMember(inPlace, part);
    return joinedBy(facts, part, inPlace).flatMap((joint) =>
      joint.seams.flatMap((seam) => this.against(facts, joint, seam, present)),
    );
  }

  /** The fact behind a refusal that names a seam. */
  factOf(seam: string, refusal: Refusal): ConflictFact {
    const joint = this.facts.joints.find(({ seams }) => seams.some(({ id }) => id === seam))!;
    const fact = this.table.ofPair('torch', joint.a, joint.b, { seam });
    if (!this.told.has(fact)) this.told.set(fact, refusal);
    return fact;
  }

  /** Of all that was tried, the refusal that came nearest to covering a seam. */
  nearestOf(fact: ConflictFact): Refusal | undefined {
    const found = this.nearest.get(fact);
    if (found === undefined) return this.told.get(fact);
    const { facts, joint, seam, present, open } = found;
    return this.layoutsAt(facts).whyUncovered(joint, seam, present, open);
  }

  private against(facts: Facts, joint: Joint, seam: JointSeam, present: PartSet): readonly ConflictFact[] {
    const pair = setOf(facts.scene.parts.length, [joint.a, joint.b]);
    const alone = this.coverage(facts, joint, seam, pair);
    const among = alone.covers ? present : pair;
    const { open, covers } = this.coverage(facts, joint, seam, among);
    if (covers) return [];
    const fact = this.table.ofPair('torch', joint.a, joint.b, { seam: seam.id });
    const known = this.nearest.get(fact);
    if (known === undefined || open > known.open)
      this.nearest.set(fact, { facts, joint, seam, present: among, open });
    return [fact];
  }

  private coverage(facts: Facts, joint: Joint, seam: JointSeam, present: PartSet): Coverage {
    return this.coverages.get(`${facts.angle} ${seam.id} ${setKey(present)}`, () =>
      this.layoutsAt(facts).coverage(joint, seam, present),
    );
  }
}
