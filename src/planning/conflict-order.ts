import { emptySet, has, size, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { ConflictFact, FactTable } from './conflict-facts.js';
import type { ConflictWishes } from './conflict-wishes.js';
import { OrderRelations } from './order-relations.js';

/** What the file says about the order of the parts, and what a part needs to stand on, as facts. */
export class ConflictOrder {
  private readonly relations: OrderRelations;
  /** Per part: what must be there, and what must not, each with its fact. */
  private readonly needs: readonly (readonly [number, ConflictFact])[][];
  private readonly blocked: readonly (readonly [number, ConflictFact])[][];
  private readonly first: ConflictFact | undefined;

  constructor(
    facts: Facts,
    private readonly table: FactTable,
    private readonly wishes: ConflictWishes,
  ) {
    const { weldment, parts, index } = facts.scene;
    this.relations = new OrderRelations(facts);
    const rows = (
      kind: 'needs' | 'blocking',
      given: readonly { readonly part: string; readonly others: readonly string[] }[],
    ): (readonly [number, ConflictFact])[][] =>
      parts.map((one, of) =>
        given
          .filter(({ part }) => part === one.part.id)
          .flatMap(({ others }) =>
            others.map((other) => [index.get(other)!, table.of(kind, of, { other })] as const),
          ),
      );
    this.needs = rows(
      'needs',
      weldment.needs.map(({ part, after }) => ({ part, others: after })),
    );
    this.blocked = rows(
      'blocking',
      weldment.blocking.map(({ part, by }) => ({ part, others: by })),
    );
    this.first = weldment.first === undefined ? undefined : table.of('first', index.get(weldment.first)!);
  }

  /** Relations and wishes about the order that a part breaks by coming now. */
  against(part: number, inPlace: PartSet): readonly ConflictFact[] {
    const first = size(inPlace) === 0 && this.first !== undefined && this.first.of !== part;
    return [
      ...this.blocked[part]!.filter(([other]) => has(inPlace, other)).map(([, fact]) => fact),
      ...this.needs[part]!.filter(([other]) => !has(inPlace, other)).map(([, fact]) => fact),
      ...(first ? [this.first!] : []),
      ...this.wishes.againstOrder(part, inPlace),
    ];
  }

  /** That a part has nothing to stand on now. */
  againstFooting(part: number, inPlace: PartSet): readonly ConflictFact[] {
    return this.relations.hasFooting(part, inPlace) ? [] : [this.table.of('contact', part)];
  }

  /** Parts beside which a part may have a footing, the table aside. */
  footings(part: number): PartSet {
    return this.relations
      .leastFootings(part)
      .reduce((all, one) => all.map((word, i) => word | one[i]!), emptySet(this.needs.length));
  }
}
