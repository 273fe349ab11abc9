import type { PlanReserve, Stage } from '../../../model/plan.js';
import { reserveText } from '../../numbers.js';
import { plain } from '../../plain.js';
import { RESERVE_STATES, weakestReserve } from '../../weakest-point.js';
import { html, table, text } from '../html.js';
import { valued } from '../pieces.js';

/** The least reserve of each state that a stage goes through, in the order of the plan. */
function leastOfEach(reserves: readonly PlanReserve[]): readonly PlanReserve[] {
  const states = [...new Set(reserves.map(({ state }) => RESERVE_STATES[state]))];
  return states.flatMap((state) => {
    const least = weakestReserve(reserves.filter((one) => RESERVE_STATES[one.state] === state));
    return least === undefined ? [] : [least];
  });
}

/** How far a stage is from giving way: the least reserve of each state. */
export function sheetReserves({ number, reserves }: Stage): string {
  const least = leastOfEach(reserves);
  if (least.length === 0) return html('p', {}, text('No reserve is claimed for this stage.'));
  return table({
    caption: `Reserves of stage ${number}, the least of each state (at most 10)`,
    heads: ['State', 'Reserve', 'Needs', 'Load', 'Gives way first'],
    rows: least.map(({ state, case: load, reserve, required, weakest }) => ({
      cells: [
        RESERVE_STATES[state],
        { html: valued(reserve, reserveText(reserve)) + (reserve < required ? text(' TOO LOW') : '') },
        { html: valued(required, reserveText(required)) },
        plain(load),
        weakest === '' ? '-' : plain(weakest),
      ],
    })),
    numbers: [1, 2],
  });
}
