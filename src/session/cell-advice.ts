import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Facts } from '../facts/facts.js';
import { concerns, MovedReach } from '../facts/moved-reach.js';
import { isMet, isNeeded, surveyReach, targetKey, type TargetReach } from '../facts/reach-survey.js';
import { targetsOf, type ReachTarget } from '../facts/reach-tries.js';
import type { Cell } from '../model/cell.js';
import { movables, movedCell, type CellMove } from '../model/cell-move.js';
import { enoughSites } from '../planning/enough-sites.js';
import { factsOf } from '../planning/plan.js';
import { cellGrid } from './cell-grid.js';

/** How far the search for a better cell has got. */
export interface AdviceProgress {
  readonly tried: number;
  readonly of: number;
}

export interface AdviceOptions {
  readonly onProgress?: ((progress: AdviceProgress) => void) | undefined;
  /** Questions to arms after which the search ends. */
  readonly mostQuestions?: number;
  /** Changed cells that are surveyed in full, after which it ends too. */
  readonly mostSurveys?: number;
}

/** Up to about twenty seconds of one core: a torch that no roll brings within the limits takes 0.3 ms (our choice). */
const MOST_QUESTIONS = 60_000;
/** A survey of a changed cell of sixteen parts takes about half a second (our choice). */
const MOST_SURVEYS = 12;

/** What the search for a better cell came to. */
export interface CellAdvice {
  /** What each robot gets to in the cell as it is. */
  readonly survey: readonly TargetReach[];
  /** Targets that no robot gets to and that a plan cannot do without. */
  readonly unmet: readonly ReachTarget[];
  /** The smallest change that leaves the fewest of them, with what robots get to then; undefined when none is better. */
  readonly better:
    | {
        readonly move: CellMove;
        readonly survey: readonly TargetReach[];
        readonly unmet: readonly ReachTarget[];
      }
    | undefined;
  /** How many places of the grid were tried, and how many it has. */
  readonly tried: number;
  readonly of: number;
}

/** Searches changes of one cell on the grid. */
class CellSearch {
  private readonly survey: readonly TargetReach[];
  /** Targets that must be reached after a change: what a plan needs, and what is reached now. */
  private readonly wanted: readonly ReachTarget[];
  /** The same, those that ruled out the last change first. */
  private asked: readonly ReachTarget[];
  private readonly missed: ReadonlySet<ReachTarget>;

  constructor(
    private readonly facts: Facts,
    private readonly programs: LinearPrograms,
  ) {
    this.survey = surveyReach(facts, enoughSites(facts));
    const targets = targetsOf(facts);
    const met = metIn(facts, this.survey);
    const isReached = (target: ReachTarget): boolean => met.has(targetKey(facts.scene, target));
    this.missed = new Set(targets.filter((target) => isNeeded(target) && !isReached(target)));
    this.wanted = targets.filter((target) => isNeeded(target) || isReached(target));
    this.asked = [...this.missed, ...targets.filter(isReached)];
  }

  private screenOf(): MovedReach {
    const bare = this.factsIn({ ...this.facts.scene.cell, keepOuts: [] });
    return new MovedReach(bare, enoughSites(bare));
  }

  private factsIn(cell: Cell): Facts {
    return factsOf(this.facts.scene.weldment, cell, this.facts.settings, this.programs);
  }

  run(
    { onProgress, mostQuestions, mostSurveys }: AdviceOptions,
    grid: readonly CellMove[] = cellGrid(this.facts.scene.cell),
  ): CellAdvice {
    const { survey, missed } = this;
    if (missed.size === 0) return { survey, unmet: [], better: undefined, tried: 0, of: grid.length };
    const screen = this.screenOf();
    let fewest = missed.size;
    let better: CellAdvice['better'];
    let [tried, surveys] = [0, 0];
    for (const move of grid) {
      if (fewest === 0 || screen.questions >= (mostQuestions ?? MOST_QUESTIONS)) break;
      if (surveys >= (mostSurveys ?? MOST_SURVEYS)) break;
      onProgress?.({ tried, of: grid.length });
      tried += 1;
      if (this.isRuledOut(screen, move, fewest)) continue;
      surveys += 1;
      const after = this.surveyAfter(move);
      if (after.unmet.length >= fewest) continue;
      fewest = after.unmet.length;
      better = { move, ...after };
    }
    return { survey, unmet: [...missed], better, tried, of: grid.length };
  }

  /** Whether it is proved that a change leaves as many targets unmet as are known to be enough, or more. */
  private isRuledOut(screen: MovedReach, move: CellMove, enough: number): boolean {
    const { cell } = this.facts.scene;
    const reached = screen.after(move);
    const failed: ReachTarget[] = [];
    for (const target of this.asked) {
      const met = concerns(move, cell, target) ? reached(target) : !this.missed.has(target);
      if (met) continue;
      failed.push(target);
      if (failed.length < enough) continue;
      this.asked = [...failed, ...this.asked.filter((one) => !failed.includes(one))];
      return true;
    }
    return false;
  }

  /** The changed cell from scratch. */
  private surveyAfter(move: CellMove): { survey: readonly TargetReach[]; unmet: readonly ReachTarget[] } {
    const facts = this.factsIn(movedCell(this.facts.scene.cell, move));
    const survey = surveyReach(facts, enoughSites(facts));
    const met = metIn(facts, survey);
    return { survey, unmet: this.wanted.filter((target) => !met.has(targetKey(facts.scene, target))) };
  }
}

/** Keys of the targets that some robot reaches, or several together. */
function metIn(facts: Facts, survey: readonly TargetReach[]): ReadonlySet<string> {
  const byTarget = new Map<string, TargetReach[]>();
  for (const one of survey) {
    const key = targetKey(facts.scene, one.target);
    byTarget.set(key, [...(byTarget.get(key) ?? []), one]);
  }
  const enough = enoughSites(facts);
  return new Set([...byTarget].flatMap(([key, own]) => (isMet(facts, own, enough) ? [key] : [])));
}

/**
 * What robots get to in a cell and, where something that every plan needs is out of reach, the smallest change of the
 * work table, of a robot's base or of the infeed on a grid that brings it into reach and loses nothing that is reached
 * now. Changes that are proved too little are passed over; any other is judged by a survey of the changed cell, built
 * from scratch. If none of those tried brings everything into reach, the one that leaves the fewest targets out of it.
 * Reach only: nothing is said of collisions, and only a plan in the changed cell shows that all else fits too.
 */
export const adviseCell = (facts: Facts, programs: LinearPrograms, options: AdviceOptions = {}): CellAdvice =>
  new CellSearch(facts, programs).run(options);

/** For each thing that can be moved alone: so many questions and surveys, of which there are several (our choice). */
const EACH: AdviceOptions = { mostQuestions: 15_000, mostSurveys: 3 };

/**
 * The same for each thing of the cell that can be moved, by itself: the work table, each robot, the infeed, in that order.
 * Less is asked for each than for all of them together.
 */
export function adviseEachMove(facts: Facts, programs: LinearPrograms): readonly CellAdvice[] {
  const search = new CellSearch(facts, programs);
  const grid = cellGrid(facts.scene.cell);
  return movables(facts.scene.cell).map((movable) =>
    search.run(
      EACH,
      grid.filter(({ moved }) => JSON.stringify(moved) === JSON.stringify(movable)),
    ),
  );
}
