import { has, withMember, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { joinedBy } from './tack-layout.js';
import { isOpen } from './ways.js';

/** Which part a dive of the search tries first in a state: told from tests on sets alone, nothing is judged. */
export class Promises {
  constructor(private readonly facts: Facts) {}

  /**
   * The less the more promising: how many parts that are left would have no open approach any more, then whether nothing
   * in place is joined to the part, then the heavier first. Whatever it says, no part is left out.
   */
  of(part: number, inPlace: PartSet): readonly number[] {
    const { scene } = this.facts;
    const after = withMember(inPlace, part);
    const shut = scene.parts.filter((_, left) => !has(after, left) && !this.isOpenFor(left, after)).length;
    const apart = joinedBy(this.facts, part, inPlace).length === 0 ? 1 : 0;
    return [shut, apart, -Math.round(scene.parts[part]!.mass * 1000)];
  }

  private isOpenFor(part: number, inPlace: PartSet): boolean {
    const { manual } = this.facts.scene.parts[part]!.part;
    if (manual) return true;
    return this.facts.everyAngle.some((at) =>
      at.approaches(part).some((approach) => isOpen(approach, inPlace)),
    );
  }
}
