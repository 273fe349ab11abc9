import { existsSync, readFileSync } from 'node:fs';
import { parse, stringify } from 'yaml';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { readInputs, type Inputs, type Sources } from '../../src/session/inputs.js';
import { planSession, type PlanOutcome } from '../../src/session/plan.js';

export type Triple = [number, number, number];

/** A part as a weldment file writes it; shapes are left as they are. */
export interface PartEntry {
  at: Triple;
  turn?: Triple;
  [key: string]: unknown;
}

export interface JointEntry {
  between: [string, string];
  [key: string]: unknown;
}

/** A weldment file as plain data, free to be changed. */
export interface WeldmentEntries {
  weldment: string;
  parts: Record<string, PartEntry>;
  joints: JointEntry[];
  first?: string;
  needs?: { part: string; after: string[] }[];
  tolerances?: { name: string; from: string; to: string; [key: string]: unknown }[];
  [key: string]: unknown;
}

export interface KeepOutEntry {
  at: Triple;
  size: Triple;
  turn?: number;
}

/** A cell file as plain data, free to be changed. */
export interface CellEntries {
  robots: Record<string, { at: Triple; turn?: Triple; [key: string]: unknown }>;
  grippers: Record<string, { stand: Triple; [key: string]: unknown }>;
  stations: {
    infeed: { at: Triple; turn?: Triple; [key: string]: unknown };
    regrip: { at: Triple; turn?: number; [key: string]: unknown };
    table: {
      at: Triple;
      turn?: number;
      'weldment-at'?: Triple;
      'weldment-turn'?: number;
      [key: string]: unknown;
    };
  };
  'keep-outs'?: KeepOutEntry[];
  [key: string]: unknown;
}

/** Both files of a session as plain data. */
export interface Files {
  readonly weldment: WeldmentEntries;
  readonly cell: CellEntries;
}

export type ExampleName = 'roller-stand' | 'box-beam' | 'ladder-bracket' | 'machine-sub-frame';

const root = new URL('../../', import.meta.url);
const readYaml = (path: string): unknown => parse(readFileSync(new URL(path, root), 'utf8'));

/** Where the files of an example are, from the top of the project. */
export const exampleFiles = (name: string): { readonly weldment: string; readonly cell: string } => ({
  weldment: `examples/${name}/${name}.weldment.yaml`,
  cell: `examples/cells/${name === 'machine-sub-frame' ? 'long-bench' : 'twin-bench'}.cell.yaml`,
});

export const example = (name: ExampleName): Files => ({
  weldment: readYaml(exampleFiles(name).weldment) as WeldmentEntries,
  cell: readYaml(exampleFiles(name).cell) as CellEntries,
});

/** The files of a story, the bench of the stories where it has no cell of its own; its settings are left to the defaults. */
export function story(name: string): Files {
  const own = `tests/stories/${name}/cell.yaml`;
  return {
    weldment: readYaml(`tests/stories/${name}/weldment.yaml`) as WeldmentEntries,
    cell: readYaml(existsSync(new URL(own, root)) ? own : 'tests/stories/bench.cell.yaml') as CellEntries,
  };
}

/** The example with only some of its parts and the joints between them: a small weldment that plans quickly. */
export function exampleWith(name: ExampleName, ...kept: readonly string[]): Files {
  const { weldment, cell } = example(name);
  const parts = Object.entries(weldment.parts).filter(([id]) => kept.includes(id));
  const joints = weldment.joints.filter(({ between }) => between.every((id) => kept.includes(id)));
  return { cell, weldment: { ...weldment, parts: Object.fromEntries(parts), joints, tolerances: [] } };
}

/** The files as text, as a session takes them. */
export const sourcesOf = ({ weldment, cell }: Files): Sources => ({
  weldment: { text: stringify(weldment), name: 'weldment.yaml' },
  cell: { text: stringify(cell), name: 'cell.yaml' },
});

/** What the files read as; they must be sound. */
export function inputsOf(files: Files): Inputs {
  const { inputs, issues } = readInputs(sourcesOf(files));
  if (!inputs) throw new Error(JSON.stringify(issues, undefined, 2));
  return inputs;
}

/** Enough for every weldment in these tests to be planned to the end of its search. */
export const ENOUGH_STEPS = 2000;

/** Plans for one test file; the same files with the same budget are planned once. */
export class Planner {
  private readonly outcomes = new Map<string, PlanOutcome>();

  private constructor(readonly programs: LinearPrograms) {}

  static async load(): Promise<Planner> {
    return new Planner(await loadLinearPrograms());
  }

  outcome(files: Files, steps = ENOUGH_STEPS): PlanOutcome {
    const key = `${steps} ${JSON.stringify(files)}`;
    let outcome = this.outcomes.get(key);
    if (outcome === undefined) {
      outcome = this.outcomeAnew(files, steps);
      this.outcomes.set(key, outcome);
    }
    return outcome;
  }

  /** As `outcome`, but never from what is kept. */
  outcomeAnew(files: Files, steps = ENOUGH_STEPS): PlanOutcome {
    return planSession(sourcesOf(files), { programs: this.programs, steps });
  }

  /** The plan of files that must have one. */
  plan(files: Files, steps = ENOUGH_STEPS): GeometricPlan {
    return planIn(this.outcome(files, steps));
  }
}

/** The plan with shapes in an outcome that must have one. */
export function planIn(outcome: PlanOutcome): GeometricPlan {
  if (outcome.kind !== 'planned' || outcome.plan.kind !== 'geometric')
    throw new Error(`expected a plan, got ${JSON.stringify(outcome).slice(0, 2000)}`);
  return outcome.plan;
}
