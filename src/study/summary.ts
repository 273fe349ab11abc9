import { compareText } from '../base/order.js';
import { gapToKnown, type Known } from './gap-to-known.js';
import { median } from './middle.js';
import type { Row } from './row.js';

/** What the rows of one solver come to. */
export interface SolverSummary {
  readonly solver: string;
  /** Rows, apart from those to which the solver does not apply. */
  readonly rows: number;
  readonly optimal: number;
  readonly impossible: number;
  /** Rows with a legal order. */
  readonly legal: number;
  /** Rows that ended in no plan and no proof. */
  readonly none: number;
  readonly failed: number;
  readonly notApplicable: number;
  /** To the best known cost, as shares, over the rows with a legal order; undefined without such rows. */
  readonly gap: { readonly mean: number; readonly median: number; readonly worst: number } | undefined;
  /** Over the rows with a legal order. */
  readonly medianFirst: number | undefined;
  /** Over the rows with a proof. */
  readonly medianProof: number | undefined;
}

/** One summary a solver, by name. Heuristics of one name that differ are told apart by their digests. */
export function summarise(rows: readonly Row[], known: Known): readonly SolverSummary[] {
  const names = solverNames(rows);
  return [...new Set(names.values())].sort(compareText).map((solver) =>
    summaryOf(
      solver,
      rows.filter((row) => names.get(solverKey(row)) === solver),
      known,
    ),
  );
}

const solverKey = ({ solver, solverDigest }: Row): string => `${solver} ${solverDigest}`;

/** What each solver is called, by `solverKey`. */
export function solverNames(rows: readonly Row[]): ReadonlyMap<string, string> {
  const digests = new Map<string, Set<string>>();
  for (const { solver, solverDigest } of rows)
    digests.set(solver, (digests.get(solver) ?? new Set()).add(solverDigest));
  return new Map(
    rows.map((row) => {
      const shared = digests.get(row.solver)!.size > 1;
      return [solverKey(row), shared ? `${row.solver} ${row.solverDigest.slice(0, 6)}`.trim() : row.solver];
    }),
  );
}

/** The name under which a row stands in a summary. */
export const nameIn = (names: ReadonlyMap<string, string>, row: Row): string => names.get(solverKey(row))!;

function summaryOf(solver: string, rows: readonly Row[], known: Known): SolverSummary {
  const count = (outcome: Row['outcome']): number => rows.filter((row) => row.outcome === outcome).length;
  const legal = rows.filter(({ best }) => best !== undefined);
  const gaps = legal.flatMap(({ best, digest }) => {
    const to = known.get(digest);
    return to === undefined ? [] : [gapToKnown(best!, to)];
  });
  const defined = (values: readonly (number | undefined)[]): number[] =>
    values.filter((value) => value !== undefined);
  const notApplicable = count('not-applicable');
  return {
    ...{ solver, rows: rows.length - notApplicable, legal: legal.length, notApplicable },
    ...{ optimal: count('optimal'), impossible: count('impossible') },
    ...{ none: count('none-in-budget'), failed: count('failed') },
    gap:
      gaps.length === 0
        ? undefined
        : {
            mean: gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length,
            median: median(gaps)!,
            worst: gaps.reduce((a, b) => Math.max(a, b)),
          },
    medianFirst: median(defined(legal.map(({ firstSeconds }) => firstSeconds))),
    medianProof: median(defined(rows.map(({ proofSeconds }) => proofSeconds))),
  };
}
