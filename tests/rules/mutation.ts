import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan, Step } from '../../src/model/plan.js';
import type { Weldment } from '../../src/model/weldment.js';
import { buildScene } from '../../src/model/scene.js';
import { runFaults } from '../../src/rules/fault-run.js';
import { filledPrograms } from '../../src/planning/fill-programs.js';
import { rebuilt } from './rebuilt-programs.js';

/** What a check is given; a mutation hands out a changed copy and leaves the original alone. */
export interface Checked {
  readonly weldment: Weldment;
  readonly cell: Cell;
  readonly plan: GeometricPlan;
}

/** A way to spoil a sound plan so that one rule must notice. */
export interface Mutation {
  readonly name: string;
  /** The rule that must speak. */
  readonly rule: string;
  /** Rules that cannot help but speak too; all others must stay silent. */
  readonly also: readonly string[];
  /** Undefined when the plan has nothing of the kind. */
  mutate(checked: Checked): Checked | undefined;
}

/** What a change says when the plan has nothing of the kind; anything else counts as done. */
export const NOT_THERE = Symbol('not there');

/** A copy in which no two places share an object, so that a change is made in one place only. */
const copyOf = (plan: GeometricPlan): GeometricPlan => JSON.parse(JSON.stringify(plan)) as GeometricPlan;

/** The plan with poses, branches, seam data and resume points of its steps made to fit again. */
function filled(plan: GeometricPlan, cell: Cell): GeometricPlan {
  for (const step of stepsOf(plan)) delete step.resume;
  const timed = plan.programs.map(({ steps }) => steps);
  return { ...plan, ...filledPrograms(cell, plan.stages, timed) };
}

/** A change of the plan alone, made on a copy. */
export const inPlan =
  (change: (plan: GeometricPlan) => unknown): Mutation['mutate'] =>
  (checked) => {
    const plan = copyOf(checked.plan);
    return change(plan) === NOT_THERE ? undefined : { ...checked, plan };
  };

/** The plan with the table of faults that its programs now have. */
function refaulted({ weldment, cell, plan }: Checked): GeometricPlan {
  const { settings } = plan;
  const scene = buildScene(weldment, cell, settings);
  const run = runFaults({ weldment, cell, plan, settings, scene, programs: NO_STATICS });
  if (run === undefined) return plan;
  const { rows: faultRows, dropZones } = run;
  return {
    ...plan,
    safety: { ...plan.safety, faults: [...run.faults], faultRows, dropZones: [...dropZones] },
  };
}

/** Faults ask for no statics. */
const NO_STATICS = undefined as unknown as LinearPrograms;

/** A change of the steps of all programs, with numbers, times, handshakes and what follows from them made to fit again. */
export const inPrograms =
  (change: (programs: GeometricPlan['programs'], plan: GeometricPlan) => unknown): Mutation['mutate'] =>
  (checked) => {
    const plan = copyOf(checked.plan);
    if (change(plan.programs, plan) === NOT_THERE) return undefined;
    return { ...checked, plan: refaulted({ ...checked, plan: filled(rebuilt(plan), checked.cell) }) };
  };

/** A change of stages and steps, with what follows from them in the steps made to fit again. */
export const inPoses =
  (change: (plan: GeometricPlan) => unknown): Mutation['mutate'] =>
  (checked) => {
    const plan = copyOf(checked.plan);
    return change(plan) === NOT_THERE ? undefined : { ...checked, plan: filled(plan, checked.cell) };
  };

export const inCell =
  (change: (cell: Cell) => Cell): Mutation['mutate'] =>
  (checked) => ({ ...checked, cell: change(checked.cell) });

/** Every step of every program, with those that are done only when a tack is bad. */
export const stepsOf = (plan: GeometricPlan): Step[] =>
  plan.programs.flatMap(({ steps }) =>
    steps.flatMap((step): Step[] => (step.do === 'accept' ? [step, ...step.rework] : [step])),
  );

export const mutation = (
  rule: string,
  name: string,
  mutate: Mutation['mutate'],
  also: readonly string[] = [],
): Mutation => ({ rule, name, mutate, also });
