import { has, intersects, isSubset, setOf, size, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { footingOf, hasFooting } from '../model/standing.js';
import type { Wish } from '../model/wish.js';
import { looseParts } from '../rules/loose-parts.js';
import { hardOrder } from './order-wishes.js';
import { wishesIn } from './stage-wishes.js';
import { joinedBy } from './tack-layout.js';

/** What the file says about the order of the parts, and what a part needs to stand on, as tests on sets of parts. */
export class OrderRelations {
  private readonly needs: readonly PartSet[];
  private readonly blockedBy: readonly PartSet[];
  private readonly wished: number | undefined;
  /** Whether the joints make one piece of all parts: otherwise what stands apart would stay apart. */
  private readonly onePiece: boolean;
  private readonly asked: ReturnType<typeof hardOrder>;

  /** @param wishes of which those that are not soft restrict the order; those of the inputs when left out */
  constructor(
    private readonly facts: Facts,
    wishes: readonly Wish[] = wishesIn(facts),
  ) {
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
    this.asked = hardOrder(
      parts.map(({ part }) => part.id),
      wishes,
    );
    const all = parts.map((_, part) => part);
    this.onePiece = looseParts(all, facts.joints).length === 0;
  }

  /** Whether the given needs, blocking and the wishes that are not soft let a part come now. */
  allow(part: number, inPlace: PartSet): boolean {
    const { before, notFirst } = this.asked;
    if (size(inPlace) === 0 && this.wished !== undefined && this.wished !== part) return false;
    if (size(inPlace) === 0 && has(notFirst, part)) return false;
    return (
      isSubset(before[part]!, inPlace) &&
      isSubset(this.needs[part]!, inPlace) &&
      !intersects(this.blockedBy[part]!, inPlace)
    );
  }

  /**
   * Whether a part is joined to a part in place or has something below it to stand on, until a later part joins it to
   * the rest. The first stands on the table.
   */
  hasFooting(part: number, inPlace: PartSet): boolean {
    const { scene } = this.facts;
    if (size(inPlace) === 0) return scene.tableBearing[part]!.length > 0;
    if (joinedBy(this.facts, part, inPlace).length > 0) return true;
    return this.onePiece && hasFooting(footingOf(scene, part, (other) => has(inPlace, other)));
  }

  /** The least sets of parts in place beside which a part may have a footing: none of them, or one neighbour. */
  leastFootings(part: number): readonly PartSet[] {
    const { joints, scene } = this.facts;
    const count = scene.parts.length;
    const nothing = setOf(count, []);
    const joined = joints.flatMap(({ a, b }) => (a === part ? [b] : b === part ? [a] : []));
    const first = this.allow(part, nothing) && this.hasFooting(part, nothing);
    const below = this.onePiece ? footingOf(scene, part, () => true) : { table: false, parts: [] };
    const beside = [...new Set([...joined, ...below.parts])].map((other) => setOf(count, [other]));
    return first || below.table ? [nothing, ...beside] : beside;
  }
}
