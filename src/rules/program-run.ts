import type { GeometricPlan } from '../model/plan.js';
import {
  arcsOf,
  runEvents,
  staysOf,
  manualsOf,
  turnsOf,
  type Arc,
  type RunEvents,
  type Stay,
  type ManualEvents,
  type TurnEvents,
} from './run-events.js';

type Program = GeometricPlan['programs'][number];

/** The programs of a plan as events, in its order, and what of them the properties speak of; lists are by program. */
export interface ProgramRun {
  readonly plan: GeometricPlan;
  readonly robots: readonly Program[];
  readonly programs: readonly RunEvents[];
  /** Stays in the work zone, and at infeed and regrip table. */
  readonly work: readonly (readonly Stay[])[];
  readonly stations: readonly (readonly Stay[])[];
  /** Of all welding robots. */
  readonly arcs: readonly (Arc & { readonly program: number })[];
  readonly turns: readonly (readonly TurnEvents[])[];
  /** While a person is at work; of all programs. */
  readonly manuals: readonly (ManualEvents & { readonly program: number })[];
}

/** How the programs of a plan run, whatever robots the cell has. */
export function runOf(plan: GeometricPlan): ProgramRun {
  const robots = plan.programs;
  const programs = robots.map(({ steps }) => runEvents(steps));
  return {
    plan,
    robots,
    programs,
    work: programs.map((program, i) => staysOf(robots[i]!.steps, program, 'work')),
    stations: programs.map((program, i) => staysOf(robots[i]!.steps, program, 'stations')),
    arcs: programs.flatMap((events, program) =>
      robots[program]!.duty === 'weld'
        ? arcsOf(plan, robots[program]!.steps, events).map((arc) => ({ ...arc, program }))
        : [],
    ),
    turns: programs.map((program, i) => turnsOf(robots[i]!.steps, program)),
    manuals: programs.flatMap((events, program) =>
      manualsOf(robots[program]!.steps, events).map((one) => ({ ...one, program })),
    ),
  };
}

export const eventsOf = ({ programs }: ProgramRun): readonly RunEvents['events'][] =>
  programs.map(({ events }) => events);
