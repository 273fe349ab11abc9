import {
  FEASIBLE_WITHIN,
  PROVED_WITHIN,
  objectiveOf,
  provedBound,
  worstViolation,
} from './linear-program-check.js';
import type { Attempt, Basis, Claim, OpenModel } from './linear-program-engine.js';
import { Engine } from './linear-program-engine.js';
import { elastic, pack, widened, withOwnBounds } from './linear-program-packed.js';
import type { LinearPrograms, Model, Outcome, Packed, Start } from './linear-program-shape.js';

export { GrowingRows } from './growing-rows.js';
export { pack } from './linear-program-packed.js';

export type {
  Column,
  Duals,
  Entry,
  LinearPrograms,
  Model,
  Optimal,
  Outcome,
  Packed,
  Program,
  Row,
  Start,
} from './linear-program-shape.js';

/** Roads through the engine, the next for answers that do not pass their check. Presolve costs more than it saves. */
const ATTEMPTS: readonly Attempt[] = [
  { presolve: 'off', solver: 'dual simplex' },
  { presolve: 'on', solver: 'choose' },
  { presolve: 'on', solver: 'ipm' },
];
/** With integers presolve pays; the other road differs by going without. */
const WHOLE_ATTEMPTS: readonly Attempt[] = [
  { presolve: 'on', solver: 'choose' },
  { presolve: 'off', solver: 'choose' },
];
/** When only costs and column bounds change, the last answer stays nearly feasible: five to ten times fewer steps. */
const FROM_ANSWER = 'primal simplex';
/** A row may be violated by this much, in its own unit, before a program counts as infeasible. */
const INFEASIBLE_BEYOND = 1e-9;
/** By how much rows are moved outwards when the engine and the least violation disagree. */
const DISPUTE_ROOM = 1e-8;

/**
 * Loads the engine (WebAssembly); done once at the edge, and the result handed in wherever programs are solved.
 * Rejects only when the package itself is damaged or missing.
 */
export async function loadLinearPrograms(): Promise<LinearPrograms> {
  const engine = await Engine.load();
  return {
    solve: (program) => solveCold(engine, pack(program)),
    model: (packed) => new KeptModel(engine, withOwnBounds(packed)),
  };
}

/** A kept program: the packed arrays are the truth, the engine's copy follows them. */
class KeptModel implements Model {
  /** The engine's copy, for the first road of cold solves and for all others: a second one costs more than a solve. */
  private readonly copy: OpenModel;
  private marked: Basis | undefined;

  constructor(
    private readonly engine: Engine,
    private readonly packed: Packed,
  ) {
    this.copy = engine.open(packed, ATTEMPTS[0]!);
  }

  setCost(column: number, cost: number): void {
    if (this.packed.cost[column] === cost) return;
    this.packed.cost[column] = cost;
    this.copy.setCost(column, cost);
  }

  setColumnBounds(column: number, lower: number, upper: number): void {
    if (this.packed.lower[column] === lower && this.packed.upper[column] === upper) return;
    this.packed.lower[column] = lower;
    this.packed.upper[column] = upper;
    this.copy.setColumnBounds(column, lower, upper);
  }

  setRowBounds(row: number, lower: number, upper: number): void {
    if (this.packed.rowLower[row] === lower && this.packed.rowUpper[row] === upper) return;
    this.packed.rowLower[row] = lower;
    this.packed.rowUpper[row] = upper;
    this.copy.setRowBounds(row, lower, upper);
  }

  solve(start: Start): Outcome {
    if (start === 'cold') return this.solveCold();
    if (start === 'marked' && this.marked === undefined) return this.solveCold();
    const claim = this.copy.run(start === 'marked' ? this.marked! : 'last answer', FROM_ANSWER);
    const outcome = claim.status === 'optimal' ? checked(this.packed, claim) : undefined;
    return outcome?.status === 'optimal' ? outcome : this.solveCold();
  }

  mark(): void {
    this.marked = this.copy.basis;
  }

  dispose(): void {
    this.copy.dispose();
  }

  private solveCold(): Outcome {
    return solveCold(this.engine, this.packed, () => this.copy.run('nothing'));
  }
}

/** Tries one road after the other until an answer passes its check. `first` runs the first road. */
function solveCold(engine: Engine, packed: Packed, first?: () => Claim): Outcome {
  if (packed.lower.some((lower, j) => lower > packed.upper[j]!)) return { status: 'infeasible' };
  if (packed.rowLower.some((lower, i) => lower > packed.rowUpper[i]!)) return { status: 'infeasible' };
  if (packed.cost.length === 0) return withoutColumns(packed);
  const reasons: string[] = [];
  let disputed = false;
  for (const [i, attempt] of (packed.integer === undefined ? ATTEMPTS : WHOLE_ATTEMPTS).entries()) {
    const claim = i === 0 && first !== undefined ? first() : runOnce(engine, packed, attempt);
    const outcome = checked(packed, claim);
    if (outcome.status === 'optimal') return outcome;
    if (outcome.status === 'failed') reasons.push(outcome.why);
    else if (violationProved(engine, packed)) return { status: 'infeasible' };
    else if (outcome.status === 'unbounded') return outcome;
    else disputed = true;
  }
  if (disputed) {
    const wider = widened(packed, DISPUTE_ROOM);
    const outcome = checked(wider, runOnce(engine, wider, ATTEMPTS[1]!));
    if (outcome.status === 'optimal') return outcome;
    reasons.push('called infeasible, but the least violation is nil');
  }
  return { status: 'failed', why: reasons.join('; ') };
}

/** With no column every row's sum is zero; the engine is not asked. */
function withoutColumns(packed: Packed): Outcome {
  const none = new Float64Array();
  if (worstViolation(packed, none) > 0) return { status: 'infeasible' };
  const duals = { rows: new Float64Array(packed.rowLower.length), columns: none };
  return { status: 'optimal', objective: 0, values: none, duals };
}

function runOnce(engine: Engine, packed: Packed, attempt: Attempt): Claim {
  const open = engine.open(packed, attempt);
  try {
    return open.run('nothing');
  } finally {
    open.dispose();
  }
}

/** Puts an optimal claim into the rows, and its duals into the bound that they prove. */
function checked(packed: Packed, claim: Claim): Outcome {
  if (claim.status === 'either') return { status: 'infeasible' };
  if (claim.status !== 'optimal') return claim.status === 'failed' ? claim : { status: claim.status };
  const { values, rowDuals, columnDuals } = claim;
  const violation = worstViolation(packed, values);
  if (violation > FEASIBLE_WITHIN)
    return { status: 'failed', why: `a row or bound is violated by ${violation}` };
  const objective = objectiveOf(packed, values);
  if (packed.integer !== undefined) return { status: 'optimal', objective, values, duals: undefined };
  const gap = Math.abs(objective - provedBound(packed, rowDuals));
  if (!(gap <= PROVED_WITHIN * (1 + Math.abs(objective))))
    return { status: 'failed', why: `the duals prove a bound ${gap} away from the objective` };
  return { status: 'optimal', objective, values, duals: { rows: rowDuals, columns: columnDuals } };
}

/** Whether the least total violation of the rows is more than rounding; decides "infeasible". */
function violationProved(engine: Engine, packed: Packed): boolean {
  const measure = elastic(packed);
  for (const attempt of ATTEMPTS) {
    const outcome = checked(measure, runOnce(engine, measure, attempt));
    if (outcome.status === 'optimal')
      return outcome.objective > INFEASIBLE_BEYOND * (packed.rowLower.length + 1);
  }
  return false;
}
