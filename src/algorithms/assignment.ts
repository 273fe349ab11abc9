export interface Assignment {
  /** Column given to each row. */
  readonly columnOf: readonly number[];
  /** Least sum of the chosen costs. */
  readonly total: number;
  /** Dual values: rowPrice[i] + columnPrice[j] <= cost[i][j], with equality on the chosen pairs. */
  readonly rowPrice: readonly number[];
  readonly columnPrice: readonly number[];
}

/**
 * The least-cost assignment of n rows to n columns, by shortest augmenting paths in O(n^3) (Kuhn 1955; Edmonds
 * and Karp 1972). Infinite costs forbid a pair; undefined when no assignment avoids them. Integer costs give
 * integer prices.
 */
export function assign(cost: readonly (readonly number[])[]): Assignment | undefined {
  const n = cost.length;
  const rowPrice = new Array<number>(n).fill(0);
  const columnPrice = new Array<number>(n + 1).fill(0);
  const rowOf = new Array<number>(n + 1).fill(-1);
  for (let row = 0; row < n; row += 1) {
    rowOf[n] = row;
    if (!augment(cost, rowPrice, columnPrice, rowOf)) return undefined;
  }
  const columnOf = new Array<number>(n).fill(-1);
  for (let column = 0; column < n; column += 1) columnOf[rowOf[column]!] = column;
  const total = columnOf.reduce((sum, column, row) => sum + cost[row]![column]!, 0);
  return { columnOf, total, rowPrice, columnPrice: columnPrice.slice(0, n) };
}

/** Finds a place for the row that stands in the extra column n; false when there is none. */
function augment(
  cost: readonly (readonly number[])[],
  rowPrice: number[],
  columnPrice: number[],
  rowOf: number[],
): boolean {
  const n = rowPrice.length;
  const slack = new Array<number>(n).fill(Infinity);
  const cameFrom = new Array<number>(n).fill(n);
  const done = new Array<boolean>(n + 1).fill(false);
  let column = n;
  while (rowOf[column]! >= 0) {
    done[column] = true;
    const row = rowOf[column]!;
    for (let j = 0; j < n; j += 1) {
      if (done[j]!) continue;
      const reduced = cost[row]![j]! - rowPrice[row]! - columnPrice[j]!;
      if (reduced < slack[j]!) {
        slack[j] = reduced;
        cameFrom[j] = column;
      }
    }
    const next = nearest(slack, done);
    if (next < 0) return false;
    shift(slack[next]!, { done, slack, rowOf, rowPrice, columnPrice });
    column = next;
  }
  while (column !== n) {
    rowOf[column] = rowOf[cameFrom[column]!]!;
    column = cameFrom[column]!;
  }
  return true;
}

function nearest(slack: readonly number[], done: readonly boolean[]): number {
  let best = -1;
  for (let j = 0; j < slack.length; j += 1) {
    if (!done[j]! && slack[j]! < (best < 0 ? Infinity : slack[best]!)) best = j;
  }
  return best;
}

/** Moves the prices so that the nearest column becomes tight and the tree stays tight. */
function shift(
  by: number,
  tree: {
    readonly done: readonly boolean[];
    readonly slack: number[];
    readonly rowOf: readonly number[];
    readonly rowPrice: number[];
    readonly columnPrice: number[];
  },
): void {
  for (let j = 0; j < tree.done.length; j += 1) {
    if (tree.done[j]!) {
      tree.rowPrice[tree.rowOf[j]!]! += by;
      tree.columnPrice[j]! -= by;
    } else tree.slack[j]! -= by;
  }
}
