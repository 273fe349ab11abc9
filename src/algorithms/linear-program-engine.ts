import * as highsPackage from 'highs';
import { shortfalls } from './linear-program-check.js';
import type { Packed } from './linear-program-shape.js';

type Highs = Awaited<ReturnType<typeof highsPackage.default.default>>;
type HighsModel = ReturnType<Highs['createModel']>;

/** Which columns and rows are basic, and at which bound the others are. */
export type Basis = ReturnType<HighsModel['getBasis']>;

/** How one attempt is made; a later attempt takes another road through the engine. */
export interface Attempt {
  readonly presolve: 'on' | 'off' | 'choose';
  readonly solver: 'dual simplex' | 'primal simplex' | 'ipm' | 'choose';
}

/** What the engine itself says, before anything is checked. */
export type Claim =
  | {
      readonly status: 'optimal';
      readonly values: Float64Array;
      readonly rowDuals: Float64Array;
      readonly columnDuals: Float64Array;
    }
  | { readonly status: 'infeasible' | 'unbounded' | 'either' }
  | { readonly status: 'failed'; readonly why: string };

/** Well below any force or share that means something, and what HiGHS can still reach in double precision. */
const ENGINE_TOLERANCE = 1e-9;
/** A simplex run of this length has lost its way: the programs here need hundreds of steps. */
const STEP_LIMIT = 200_000;
/** Row violations above this are refined away: scaling inside the engine lets them pass now and then. */
const REFINE_BEYOND = 1e-9;
/** Option values of HiGHS. */
const SIMPLEX_STRATEGY = { 'dual simplex': 1, 'primal simplex': 4, ipm: 1, choose: 0 } as const;

/** HiGHS 1.15 (WebAssembly), behind the few calls that are needed. */
export class Engine {
  private constructor(private readonly highs: Highs) {}

  static async load(): Promise<Engine> {
    const load = highsPackage.default as unknown as typeof highsPackage.default.default;
    return new Engine(await load());
  }

  open(packed: Packed, attempt: Attempt): OpenModel {
    return new OpenModel(this.highs, packed, attempt);
  }
}

/** One program inside the engine, created there when it is first run. */
export class OpenModel {
  private model: HighsModel | undefined;
  private solver: Attempt['solver'];

  constructor(
    private readonly highs: Highs,
    private readonly packed: Packed,
    private readonly attempt: Attempt,
  ) {
    this.solver = attempt.solver;
  }

  setCost(column: number, cost: number): void {
    this.model?.changeColCost(column, cost);
  }

  setColumnBounds(column: number, lower: number, upper: number): void {
    this.model?.changeColBounds(column, lower, upper);
  }

  setRowBounds(row: number, lower: number, upper: number): void {
    this.model?.changeRowBounds(row, lower, upper);
  }

  /**
   * `from` nothing or a basis: all but the program is forgotten first, so that the answer has the bits of a new copy that
   * starts there. Whatever the engine throws becomes `failed`: it refuses programs with NaN, for one. Another simplex than
   * that of the attempt may be asked for.
   */
  run(from: 'last answer' | 'nothing' | Basis, solver = this.attempt.solver): Claim {
    try {
      if (from !== 'last answer') this.model?.clearSolver();
      this.model ??= this.create();
      if (solver !== this.solver) this.model.options.set({ simplex_strategy: SIMPLEX_STRATEGY[solver] });
      this.solver = solver;
      if (typeof from !== 'string') this.model.setBasis(from);
      return this.claim(this.model);
    } catch (error) {
      return { status: 'failed', why: error instanceof Error ? error.message : String(error) };
    }
  }

  /** That of the last answer; undefined where there is none. */
  get basis(): Basis | undefined {
    try {
      return this.model?.getBasis();
    } catch {
      return undefined;
    }
  }

  dispose(): void {
    this.model?.dispose();
    this.model = undefined;
  }

  private create(): HighsModel {
    const { packed, attempt } = this;
    const model = this.highs.createModel();
    this.model = model;
    model.options.set({
      output_flag: false,
      primal_feasibility_tolerance: ENGINE_TOLERANCE,
      dual_feasibility_tolerance: ENGINE_TOLERANCE,
      simplex_iteration_limit: STEP_LIMIT,
      presolve: attempt.presolve,
    });
    if (packed.integer === undefined)
      model.options.set({
        solver: attempt.solver.endsWith('simplex') ? 'simplex' : attempt.solver,
        simplex_strategy: SIMPLEX_STRATEGY[attempt.solver],
      });
    else model.options.set({ mip_rel_gap: 0, mip_abs_gap: 0 });
    model.passModel(this.dataOf(packed));
    return model;
  }

  private claim(model: HighsModel): Claim {
    const { modelStatus } = model.run();
    const status = this.highs.constants.modelStatus;
    if (modelStatus === status.infeasible) return { status: 'infeasible' };
    if (modelStatus === status.unbounded) return { status: 'unbounded' };
    if (modelStatus === status.unboundedOrInfeasible) return { status: 'either' };
    if (modelStatus !== status.optimal && modelStatus !== status.empty)
      return { status: 'failed', why: `HiGHS ended with model status ${modelStatus}` };
    const { colValue, rowDual, colDual } = model.getSolution();
    const values = this.packed.integer === undefined ? this.refined(model, colValue) : colValue;
    return { status: 'optimal', values, rowDuals: rowDual, columnDuals: colDual };
  }

  /**
   * One step of iterative refinement (Wilkinson 1963): the basis is solved for what the rows still lack and the
   * basic columns moved by it. Kept only when it helps.
   */
  private refined(model: HighsModel, values: Float64Array): Float64Array {
    const lacking = shortfalls(this.packed, values);
    const before = greatest(lacking);
    if (before <= REFINE_BEYOND) return values;
    const basics = model.getBasicVariables();
    const moves = model.getBasisSolve(lacking).values;
    const moved = values.slice();
    basics.forEach((column, i) => {
      if (column >= 0) moved[column]! += moves[i]!;
    });
    return greatest(shortfalls(this.packed, moved)) < before ? moved : values;
  }

  private dataOf(packed: Packed): Parameters<HighsModel['passModel']>[0] {
    const { minimize, maximize } = this.highs.constants.objectiveSense;
    const numCols = packed.cost.length;
    const numRows = packed.rowLower.length;
    return {
      numCols,
      numRows,
      sense: packed.maximise ? maximize : minimize,
      colCost: packed.cost,
      colLower: packed.lower,
      colUpper: packed.upper,
      rowLower: packed.rowLower,
      rowUpper: packed.rowUpper,
      matrix: {
        format: 'csr',
        numRows,
        numCols,
        starts: packed.starts,
        indices: packed.indices,
        values: packed.values,
      },
      ...(packed.integer === undefined ? {} : { integrality: packed.integer }),
    };
  }
}

const greatest = (list: Float64Array): number =>
  list.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
