import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { testCell } from './cell.js';
import { handMadePlan, standChoices } from './hand-made-plan.js';

/** The test bench with a table that turns about a point beside its middle. */
export function turningCell(): Cell {
  const cell = testCell();
  const turntable = {
    ...{ angles: [0, 45, 180], axis: [30, 20] as const, speed: 30, acceleration: 30, settle: 1 },
    commander: 'welder',
  };
  return { ...cell, table: { ...cell.table, turntable } };
}

/** The stand of which base, wall and rib join each at another index angle. */
export const turningPlan = (programs: LinearPrograms): GeometricPlan =>
  handMadePlan(
    programs,
    standChoices().map((choice, i) => ({ ...choice, turn: [0, 45, 180][i]! })),
    turningCell(),
  );
