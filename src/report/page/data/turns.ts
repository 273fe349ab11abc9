import type { Step } from '../../../model/plan.js';
import type { GeometricContext } from '../page-context.js';
import type { PageTurn } from '../page-data.js';
import { mm, pageAngle, seconds } from './rounding.js';

const toRadians = (degrees: number): number => pageAngle((degrees * Math.PI) / 180);

/** Degrees from one angle to another the shorter way, positive counter-clockwise from above. */
const shorterWay = (from: number, to: number): number => ((((to - from) % 360) + 540) % 360) - 180;

/** Every turn of the table; one of no time first where it does not begin at angle 0. */
export function pageTurns({ plan, cell }: GeometricContext): readonly PageTurn[] {
  const { turntable } = cell.table;
  if (turntable === undefined) return [];
  const axis = [mm(turntable.axis[0]), mm(turntable.axis[1])] as const;
  let angle = plan.stages[0]?.turn ?? 0;
  const first = toRadians(angle);
  const begin: PageTurn = { start: 0, end: 0, from: first, to: first, axis };
  const turns = plan.programs
    .flatMap(({ steps }) => steps)
    .filter((step): step is Extract<Step, { do: 'turn' }> => step.do === 'turn')
    .sort((a, b) => a.start - b.start)
    .map((step) => {
      const from = angle;
      angle = from + shorterWay(from, step.to);
      const [start, end] = [seconds(step.start), seconds(step.end)];
      return { start, end, from: toRadians(from), to: toRadians(angle), axis };
    });
  return first === 0 ? turns : [begin, ...turns];
}
