import { ConsistentCuts } from '../algorithms/consistent-cuts.js';
import { happensBefore } from '../algorithms/happens-before.js';
import { robotsOf } from '../model/cell.js';
import type { DropZone, Fault } from '../model/plan-safety.js';
import type { Step } from '../model/plan.js';
import { dropZonesOf } from './drop-zones.js';
import { faultRows, type FaultRow } from './fault-rows.js';
import { groupedFaults } from './fault-table.js';
import { PartEnds, programsInOrder, type StoppedState } from './part-ends.js';
import type { RuleContext } from './rule.js';
import { runEvents, type RunEvents } from './run-events.js';

/** An end that is not safe, by the first row that comes to it. */
export interface UnsafeEnd {
  readonly fault: Fault['fault'];
  readonly robot: number;
  readonly step: number;
  readonly what: string;
}

/** What executing every single fault comes to. */
export interface FaultRun {
  readonly faults: readonly Fault[];
  readonly rows: number;
  readonly dropZones: readonly DropZone[];
  readonly unsafe: readonly UnsafeEnd[];
}

/**
 * Executes every fault of the table: the programs run, as events without duration, up to the step that it strikes, with
 * the other robots wherever the signals let them be meanwhile; then robots stop or run on
 * until they wait, and each part and each arc is looked at. With three robots or more by pairs (see ConsistentCuts): where a
 * part ends hangs on the one that has it or let it go and on one that lays its tack. Undefined where the signals lead to no order, a robot has no
 * program, or a part or gripper is unknown: other rules speak of that.
 */
export function runFaults(context: RuleContext): FaultRun | undefined {
  const programs = programsInOrder(context);
  if (programs === undefined || !allKnown(context, programs)) return undefined;
  const runs = programs.map(runEvents);
  const order = happensBefore(runs.map(({ events }) => events));
  if (!order.ok) return undefined;
  const cuts = new ConsistentCuts(
    runs.map(({ events }) => events),
    order.value,
  );
  const rows = faultRows(programs, runs);
  const execution = new Execution(new PartEnds(context, programs, runs), programs, runs, cuts, rows);
  execution.run();
  return {
    faults: groupedFaults(
      rows,
      robotsOf(context.cell).map(({ id }) => id),
      programs,
      execution.parts,
    ),
    rows: rows.length,
    dropZones: dropZonesOf(context, programs),
    unsafe: rows.flatMap(({ fault, robot, step, wrong }) =>
      wrong.map((what) => ({ fault, robot, step, what })),
    ),
  };
}

/** Whether every part that joins and everything that a gripper takes is known. */
function allKnown({ plan, cell, scene }: RuleContext, programs: readonly (readonly Step[])[]): boolean {
  const parts = plan.stages.map(({ part }) => part);
  if (new Set(parts).size < parts.length || !parts.every((part) => scene.index.has(part))) return false;
  return programs
    .flat()
    .every(
      (step) =>
        step.do !== 'grip' ||
        (parts.includes(step.part) &&
          plan.stages.some(({ number }) => number === step.stage) &&
          cell.grippers.some(({ id }) => id === step.gripper)),
    );
}

class Execution {
  /** By robot and position: the rows that strike there. */
  private readonly struck: readonly (readonly FaultRow[])[][];
  /** By robot and position: the tack whose arc burns. */
  private readonly burning: readonly (readonly (string | undefined)[])[];

  constructor(
    private readonly ends: PartEnds,
    programs: readonly (readonly Step[])[],
    private readonly runs: readonly RunEvents[],
    private readonly cuts: ConsistentCuts,
    private readonly rows: readonly FaultRow[],
  ) {
    const struck = runs.map(({ events }) => Array.from({ length: events.length + 1 }, (): FaultRow[] => []));
    for (const row of rows) for (let p = row.from; p <= row.to; p += 1) struck[row.robot]![p]!.push(row);
    this.struck = struck;
    this.burning = programs.map((steps, robot) => {
      const { events, first, last } = runs[robot]!;
      const at = new Array<string | undefined>(events.length + 1).fill(undefined);
      steps.forEach((step, i) => {
        if (step.do === 'tack') for (let p = first[i]! + 1; p <= last[i]!; p += 1) at[p] = step.tack;
      });
      return at;
    });
  }

  get parts(): readonly string[] {
    return this.ends.parts;
  }

  run(): void {
    this.cuts.each((positions) => this.strike(positions));
    for (const row of this.rows) this.settle(row);
  }

  /** All faults that may strike with the robots at these positions. */
  private strike(positions: readonly number[]): void {
    const known = new Map<string, ReturnType<PartEnds['of']>[]>();
    const endings = (row: FaultRow): ReturnType<PartEnds['of']>[] => {
      const key = row.bad === undefined ? `${row.powered}` : `bad ${row.bad}`;
      let found = known.get(key);
      if (found === undefined)
        known.set(key, (found = this.endings({ positions, powered: row.powered, bad: row.bad })));
      return found;
    };
    for (const [robot, position] of positions.entries())
      for (const row of this.struck[robot]![position]!) {
        row.situations += 1;
        const found = endings(row);
        for (const [i, part] of this.parts.entries())
          if (!row.goesOn || 'wrong' in found[i]!) row.add(part, found[i]!);
      }
  }

  private endings(state: StoppedState): ReturnType<PartEnds['of']>[] {
    return this.parts.map((part) => this.ends.of(part, state));
  }

  /** Robots that do not stop at once run on until they wait for the one that did, or to the end. */
  private settle(row: FaultRow): void {
    if (row.reaction.stop === 'all') return;
    const ahead = this.cuts.ahead(row.robot, row.to);
    const rest = row.goesOn ? this.runOn(ahead) : ahead;
    for (const [robot, position] of rest.entries()) {
      const arc = robot === row.robot && !row.goesOn ? undefined : this.burning[robot]![position];
      if (arc !== undefined) row.add(arc, { wrong: `the arc of ${arc} burns on` });
      if (row.goesOn && position < this.runs[robot]!.events.length)
        row.add('', { wrong: `program ${robot + 1} does not come to its end` });
    }
    if (!row.goesOn) return;
    const found = this.endings({ positions: rest, powered: true });
    for (const [i, part] of this.parts.entries()) row.add(part, found[i]!);
  }

  /** From some positions on as far as the signals let the programs go. */
  private runOn(from: readonly number[]): readonly number[] {
    const at = [...from];
    const sent = new Set<string>();
    this.runs.forEach(({ events }, robot) => {
      for (const event of events.slice(0, at[robot])) if (event.kind === 'send') sent.add(event.signal);
    });
    for (let moved = true; moved;) {
      moved = false;
      this.runs.forEach(({ events }, robot) => {
        for (let event = events[at[robot]!]; event !== undefined; event = events[at[robot]!]) {
          if (event.kind === 'await' && !sent.has(event.signal)) return;
          if (event.kind === 'send') sent.add(event.signal);
          at[robot]! += 1;
          moved = true;
        }
      });
    }
    return at;
  }
}
