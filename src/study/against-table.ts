import type { BestKnown } from './best-known.js';
import type { PlacedRow } from './claims.js';
import { gapToKnown } from './gap-to-known.js';
import { shownCost } from './shown-cost.js';

/** What rows say against a table of best known costs, as sentences, one an instance and kind. */
export interface AgainstTable {
  /** Values that a row has a lower cost than. */
  readonly improved: readonly string[];
  /** Values below a bound of a row: the table or the row is wrong. */
  readonly excluded: readonly string[];
}

export function againstTable(rows: readonly PlacedRow[], table: BestKnown): AgainstTable {
  const improved = new Map<string, string>();
  const excluded = new Map<string, string>();
  for (const { row, place } of rows) {
    const known = table.get(row.instance);
    if (known === undefined) continue;
    const said = `${place}: the table has ${shownCost(known)} for ${row.instance}`;
    if (row.best !== undefined && gapToKnown(row.best, known) < 0 && !improved.has(row.instance))
      improved.set(row.instance, `${said}, ${row.solver} has an order that costs ${shownCost(row.best)}`);
    if (row.bound !== undefined && gapToKnown(row.bound, known) > 0 && !excluded.has(row.instance))
      excluded.set(
        row.instance,
        `${said}, and ${row.solver} says that none costs less than ${shownCost(row.bound)}`,
      );
  }
  return { improved: [...improved.values()], excluded: [...excluded.values()] };
}
