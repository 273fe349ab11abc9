import { intersects, isSubset, setOf, size, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { joinedBy } from './tack-layout.js';

/** What the file says about the order of the parts, and what a part needs to stand on, as tests on sets of parts. */
export class OrderRelations {
  private readonly needs: readonly PartSet[];
  private readonly blockedBy: readonly PartSet[];
  private readonly wished: number | undefined;

  constructor(private readonly facts: Facts) {
    const { weldment, parts, index } = facts.scene;
    const named = (part: number, rows: readonly { part: string; others: readonly string[] }[]): PartSet =>
      setOf(
        parts.length,
        rows
          .filter((row) => index.get(row.part) === part)
          .flatMap(({ others }) => others.map((id) => index.get(id)!)),
      );
    const needs = weldment.needs.map(({ part, after }) => ({ part, others: after }));
    const blocking = weldment.blocking.map(({ part, by }) => ({ part, others: by }));
    this.needs = parts.map((_, part) => named(part, needs));
    this.blockedBy = parts.map((_, part) => named(part, blocking));
    this.wished = weldment.first === undefined ? undefined : index.get(weldment.first);
  }

  /** Whether the given needs, blocking and the wish for the first part let a part come now. */
  allow(part: number, inPlace: PartSet): boolean {
    if (size(inPlace) === 0 && this.wished !== undefined && this.wished !== part) return false;
    return isSubset(this.needs[part]!, inPlace) && !intersects(this.blockedBy[part]!, inPlace);
  }

  /** Whether a part is joined to a part in place, or stands on the table when it is the first. */
  hasFooting(part: number, inPlace: PartSet): boolean {
    if (size(inPlace) === 0) return this.facts.scene.tableBearing[part]!.length > 0;
    return joinedBy(this.facts, part, inPlace).length > 0;
  }
}
