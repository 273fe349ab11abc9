import type { FaultEnd, FaultKind, FaultReaction } from '../model/plan-safety.js';
import type { Step } from '../model/plan.js';
import { strikesAt } from './fault-kinds.js';
import type { Ending } from './part-ends.js';
import type { RunEvents } from './run-events.js';

/** One fault at one step of one robot, and what came of executing it. */
export class FaultRow {
  situations = 0;
  private readonly found = new Map<Ending, Set<string>>();

  constructor(
    readonly fault: FaultKind,
    readonly reaction: FaultReaction,
    /** Place of the robot in the list of robots, and of the step in its program. */
    readonly robot: number,
    readonly step: number,
    /** First and last position (events done) of the robot at which the fault strikes. */
    readonly from: number,
    readonly to: number,
    /** The tack that is bad. */
    readonly bad: string | undefined,
  ) {}

  get powered(): boolean {
    return this.fault !== 'power-lost';
  }

  /** Whether the programs go on to their end; then only where parts are there counts. */
  get goesOn(): boolean {
    return this.reaction.stop === 'none';
  }

  add(part: string, ending: Ending): void {
    let parts = this.found.get(ending);
    if (parts === undefined) this.found.set(ending, (parts = new Set()));
    parts.add(part);
  }

  /** What parts came to, in any of the situations. */
  get endings(): ReadonlyMap<Ending, ReadonlySet<string>> {
    return this.found;
  }

  /** What is wrong in some situation, without repetition. */
  get wrong(): readonly string[] {
    return [...this.found.keys()].flatMap((ending) => ('wrong' in ending ? [ending.wrong] : []));
  }

  ends(): readonly Omit<FaultEnd, 'parts'>[] {
    return [...this.found.keys()].flatMap((ending) => ('wrong' in ending ? [] : [ending]));
  }
}

/** All rows of the table: every fault at every step that it can strike. */
export function faultRows(
  programs: readonly (readonly Step[])[],
  runs: readonly RunEvents[],
): readonly FaultRow[] {
  return programs.flatMap((steps, robot) =>
    steps.flatMap((step, i) =>
      strikesAt(steps, i).map(({ fault, reaction, when }) => {
        const [first, last] = [runs[robot]!.first[i]!, runs[robot]!.last[i]!];
        const [from, to] = when === 'after' ? [last + 1, last + 1] : [first, last];
        const isBad = fault === 'tack-bad' || fault === 'second-tack-bad';
        const bad = isBad && step.do === 'accept' ? step.tack : undefined;
        return new FaultRow(fault, reaction, robot, i, from, to, bad);
      }),
    ),
  );
}
