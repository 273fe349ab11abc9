import { placeSolid, type Solid } from '../geometry/solid.js';
import type { Cell } from '../model/cell.js';
import type { GeometricPlan, Step } from '../model/plan.js';
import { inCellAt, turningRoom } from '../model/table-turn.js';
import type { ArmsInTime, Steps } from './arms-in-time.js';
import { angleOf } from './seen-stage.js';

/** How the work table stands all through some steps: at an index angle, or it may turn meanwhile. */
export type TableState = number | 'turning';

/** A turn of the table, by the place of its robot and of its step. */
interface Turn extends Steps {
  readonly stage: number;
  readonly to: number;
}

/** Where the work table stands in the steps of the programs, whatever the speeds of the robots. */
export class TableInTime {
  private readonly turns: readonly Turn[];
  private readonly start: number;

  constructor(
    { stages }: GeometricPlan,
    cell: Cell,
    programs: readonly (readonly Step[])[],
    private readonly time: ArmsInTime,
  ) {
    this.start = stages[0] === undefined ? 0 : angleOf(cell, stages[0]);
    this.turns =
      cell.table.turntable === undefined
        ? []
        : programs
            .flatMap((steps, robot) =>
              steps.flatMap((step, i) =>
                step.do === 'turn' ? [{ robot, first: i, last: i, stage: step.stage, to: step.to }] : [],
              ),
            )
            .sort((a, b) => a.stage - b.stage);
  }

  during(step: Steps): TableState {
    let angle = this.start;
    for (const turn of this.turns) {
      if (this.isBefore(turn, step)) angle = turn.to;
      else if (!this.isBefore(step, turn)) return 'turning';
    }
    return angle;
  }

  private isBefore(a: Steps, b: Steps): boolean {
    return a.robot === b.robot ? a.last < b.first : this.time.surelyBefore(a, b);
  }
}

/** What turns with the table, where it is in the cell then: in all the room of the round where it may be turning. */
export function solidOnTable(cell: Cell, solid: Solid, state: TableState): Solid {
  const { turntable } = cell.table;
  if (turntable === undefined || state === 0) return solid;
  return state === 'turning' ? turningRoom(turntable, solid) : placeSolid(solid, inCellAt(cell, state));
}
