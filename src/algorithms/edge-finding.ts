/** Tasks of one machine that serves one at a time, by place in the arrays; only the first `count` places count. */
export interface MachineTasks {
  count: number;
  /** Earliest start. */
  readonly head: Int32Array;
  readonly length: Int32Array;
  /** Least time that follows the end. */
  readonly tail: Int32Array;
}

/** What edge finding says, in arrays that are used again and again. */
export interface MachineFindings {
  /** Earliest start after all that a task has to follow, -1 where that is nothing. */
  readonly after: Int32Array;
  /** `later[i * count + j]` is 1 where task i has to come after task j. */
  readonly later: Uint8Array;
}

export interface EdgeFinder {
  readonly tasks: MachineTasks;
  readonly findings: MachineFindings;
  /** False when no order of the tasks ends, with tails, within `upper`. */
  raiseHeads(upper: number): boolean;
}

/**
 * Edge finding (Carlier and Pinson 1989) in the quadratic form of Baptiste, Le Pape and Nuijten: for every set of
 * tasks that share a latest end and a least head, and every further task that cannot come before one of them. Its
 * test of the sets alone is the preemptive bound of Jackson.
 */
export function edgeFinder(most: number): EdgeFinder {
  const array = (): Int32Array => new Int32Array(most);
  const tasks = { count: 0, head: array(), length: array(), tail: array() };
  const findings = { after: array(), later: new Uint8Array(most * most) };
  const byHead = array();
  const byTail = array();
  const ends = array();

  const raiseHeads = (upper: number): boolean => {
    const { count, head, tail } = tasks;
    findings.after.fill(-1, 0, count);
    findings.later.fill(0, 0, count * count);
    sortBy(byHead, head, count);
    sortBy(byTail, tail, count);
    for (let k = 0; k < count; k += 1) {
      const least = tail[byTail[k]!]!;
      if (k + 1 < count && tail[byTail[k + 1]!] === least) continue;
      if (!judgeSets(least, upper - least)) return false;
    }
    return true;
  };

  /** All sets of tasks whose tails are at least `least`, and so end by `due`. */
  const judgeSets = (least: number, due: number): boolean => {
    const { count, head, length, tail } = tasks;
    let work = 0;
    let end = -Infinity;
    for (let i = count - 1; i >= 0; i -= 1) {
      const task = byHead[i]!;
      if (tail[task]! >= least) {
        work += length[task]!;
        end = Math.max(end, head[task]! + work);
        if (end > due) return false;
      }
      ends[i] = Math.max(end, 0);
    }
    const all = end;
    let latest = -Infinity;
    let from = 0;
    for (let i = 0; i < count; i += 1) {
      const task = byHead[i]!;
      if (tail[task]! >= least) {
        if (head[task]! + work > latest) [latest, from] = [head[task]! + work, i];
        work -= length[task]!;
      } else {
        if (work > 0 && head[task]! + work + length[task]! > due) follow(task, i + 1, least, ends[i]!);
        if (latest + length[task]! > due) follow(task, from, least, all);
      }
    }
    return true;
  };

  const follow = (task: number, from: number, least: number, end: number): void => {
    const { count, tail } = tasks;
    const { after, later } = findings;
    after[task] = Math.max(after[task]!, end);
    for (let i = from; i < count; i += 1) {
      const other = byHead[i]!;
      if (tail[other]! >= least) later[task * count + other] = 1;
    }
  };

  return { tasks, findings, raiseHeads };
}

/** Places of the first `count` values, least first, ties by place; insertion sort, for there are few. */
function sortBy(places: Int32Array, values: Int32Array, count: number): void {
  for (let i = 0; i < count; i += 1) {
    let at = i;
    while (at > 0 && values[places[at - 1]!]! > values[i]!) {
      places[at] = places[at - 1]!;
      at -= 1;
    }
    places[at] = i;
  }
}
