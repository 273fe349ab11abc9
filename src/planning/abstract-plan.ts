import type { SearchProgress, SearchReport } from '../algorithms/problem.js';
import { beam } from '../algorithms/solvers/beam.js';
import type { Budget } from '../base/budget.js';
import { PLAN_FORMAT, PLAN_VERSION, type AbstractPlan } from '../model/plan.js';
import { objectiveOf } from '../model/objective.js';
import { withoutShapes, type ObjectiveTerm, type Settings } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { wishesOf } from '../model/wish.js';
import { RULES } from '../rules/check.js';
import { abstractWishStages } from '../rules/wishes-true.js';
import { orderFacts, orderMasks, partIds } from './abstract-facts.js';
import type { Moves } from './abstract-moves.js';
import { AbstractProblem, type AbstractStep, type WantedStep } from './abstract-problem.js';
import { exchangeable } from './abstract-symmetry.js';
import { wayTable } from './abstract-ways.js';
import { CAUTIONS, provenObjective } from './document.js';
import { OrderWishes } from './order-wishes.js';
import { statedWishes } from './stated-wishes.js';

/** Most bytes that the kept states of a search may take: 512 MiB, our choice, some millions of states. */
const MEMORY = 2 ** 29;

export interface AbstractOptions {
  readonly budget: Budget;
  /** When it binds, a plan has a bound instead of a proof. */
  readonly memory?: number | undefined;
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
  /** Stages of an earlier plan, to begin with as far as they are still legal. */
  readonly from?: readonly WantedStep[] | undefined;
  /** Called for every plan that is better than those before. */
  readonly onImprovement?: (() => void) | undefined;
}

/** The terms by which plans of a weldment without shapes are compared. */
export const abstractObjective = (
  weldment: AbstractWeldment,
  settings: Pick<Settings, 'objective' | 'wishes'>,
): readonly ObjectiveTerm[] => withoutShapes(objectiveOf(weldment, settings));

/** The order of a weldment without shapes as the solvers take it; a fresh one for each run. */
export const abstractProblem = (
  weldment: AbstractWeldment,
  settings: Pick<Settings, 'objective' | 'wishes'>,
  moves: Moves = 'needed',
): AbstractProblem =>
  new AbstractProblem(weldment, abstractObjective(weldment, settings), moves, wishesOf(weldment, settings));

/** Searches the best order and ways of a weldment without shapes. Deterministic for a budget in steps. */
export function planAbstract(
  weldment: AbstractWeldment,
  settings: Settings,
  { budget, memory = MEMORY, onProgress, onImprovement, from }: AbstractOptions,
): SearchReport<AbstractStep, undefined> {
  const problem = abstractProblem(weldment, settings);
  const { best, ...report } = beam(problem, {
    ...{ budget, memory, seed: settings.seed },
    ...{ onProgress, onImprovement },
    known: from && problem.pathLike(from),
  });
  return best === undefined ? report : { ...report, best: { ...best, steps: problem.steps(best.steps) } };
}

/** How a weldment without shapes is planned. */
const POLICIES: readonly string[] = [
  'one part joins at a time; where contacts are given, it touches a part in place',
  'every joint is tacked in the stage in which its later part joins',
  'handling, tool changes and tacks follow one after the other',
];

/** Where the settings ask for a term that parts without shapes do not have. */
const WITHOUT_DISTORTION =
  'parts without shapes have no distortion to predict, so that the objective goes without it';

/** Where parts are alike in all that counts. */
const IN_ONE_ORDER =
  'parts that can be exchanged without a change to what is legal or what it costs join in the order of their names, which leaves out no better plan';

function policiesFor(weldment: AbstractWeldment, settings: Settings): readonly string[] {
  const { objective } = settings;
  const wishes = wishesOf(weldment, settings);
  const masks = orderMasks(weldment, orderFacts(weldment, wishes));
  const { named } = new OrderWishes(partIds(weldment), wishes, masks);
  const { ways } = wayTable(weldment, abstractObjective(weldment, settings), wishes);
  const alike = exchangeable(masks, ways, named).length > 0;
  return [
    ...POLICIES,
    ...(alike ? [IN_ONE_ORDER] : []),
    ...(objective.includes('distortion') ? [WITHOUT_DISTORTION] : []),
  ];
}

/** What no proof about a weldment without shapes covers. */
const NOT_CHECKED: readonly string[] = [
  'whether the given contacts, blocking relations, ways and times are those of real parts',
  'whether a part holds by its tacks once it is let go',
  'distortion and weld shrinkage',
];

/** Rules that also judge a plan without shapes, as far as the weldment file gives the numbers for it. */
const APPLIED: ReadonlySet<string> = new Set([
  'each-part-once',
  'order-relations',
  'wishes-true',
  'joined-to-weldment',
  'tack-rules',
  'timeline-true',
  'objective-true',
  'proof-true',
]);

const NO_PROGRAMS = 'the plan states an order and ways, and no robot programs';
const NO_CELL = 'the weldment is planned without a cell: no robot, gripper or table is known';
const NO_MECHANICS = 'without shapes there are no contact areas and places of tacks for an equilibrium';

/** Why a rule cannot judge a plan without shapes, where it is not the shapes themselves that are missing. */
const REASONS: ReadonlyMap<string, string> = new Map([
  ['first-part-stands', NO_CELL],
  ['table-turns', NO_CELL],
  ['reach', NO_CELL],
  ['grip-carries', NO_CELL],
  ['magnet-distance', NO_CELL],
  ['handling-continuous', NO_PROGRAMS],
  ['programs-true', NO_PROGRAMS],
  ['handshakes-safe', NO_PROGRAMS],
  ['handshakes-true', NO_PROGRAMS],
  ['arms-clear', NO_PROGRAMS],
  ['reserves-hold', NO_MECHANICS],
  ['reserves-true', NO_MECHANICS],
]);

const NO_SHAPES = 'the rule judges shapes, and the parts of this weldment have none';

const rulesNotApplied = (): AbstractPlan['rulesNotApplied'] =>
  RULES.filter(({ id }) => !APPLIED.has(id)).map(({ id }) => ({
    rule: id,
    why: REASONS.get(id) ?? NO_SHAPES,
  }));

/** What a plan document needs beside the report. */
export interface AbstractInputs {
  readonly weldment: { readonly name: string; readonly digest: string };
  readonly warnings: readonly string[];
}

/** The plan document of the best order of a report, which must have one. */
export function abstractDocument(
  report: SearchReport<AbstractStep, undefined>,
  weldment: AbstractWeldment,
  settings: Settings,
  inputs: AbstractInputs,
): AbstractPlan {
  const grips = weldment.parts.reduce((sum, { ways }) => sum + Math.max(1, ways.length), 0);
  const scope = { parts: weldment.parts.length, approaches: 0, grips, rests: 0, sites: 0 };
  const stages = report.best!.steps.map(({ part, gripper, regrips, tacks, milliseconds }, i) => ({
    number: i + 1,
    part,
    gripper,
    regrips,
    tacks,
    seconds: milliseconds / 1000,
  }));
  return {
    format: PLAN_FORMAT,
    version: PLAN_VERSION,
    kind: 'abstract',
    weldment: inputs.weldment,
    settings,
    ...provenObjective(
      abstractObjective(weldment, settings),
      report,
      scope,
      policiesFor(weldment, settings),
      NOT_CHECKED,
    ),
    ...statedWishes(weldment, settings, abstractWishStages({ stages })),
    rulesNotApplied: rulesNotApplied(),
    stages,
    warnings: [...inputs.warnings],
    cautions: [...CAUTIONS],
  };
}
