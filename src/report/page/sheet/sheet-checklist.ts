import type { Step } from '../../../model/plan.js';
import type { CheckItem, CheckRun } from '../../checklist.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';
import { html, text } from '../html.js';

/** Steps at which something can go wrong that a person sees; moves, zones and signals between them are in the whole list. */
const SEEN: ReadonlySet<Step['do']> = new Set([
  ...(['change-gripper', 'part-present', 'grip', 'set-down', 'locate', 'seat', 'seam-search'] as const),
  ...(['clamp', 'hold', 'proof-pull', 'let-go', 'tack', 'turn', 'manual', 'hand-over'] as const),
]);

const tick = (...content: readonly string[]): string => html('li', {}, ...content);

/** `watched`: whether what to watch was said of the same kind of step before, as of every tack. */
function itemTicks({ robot, step, what, watch, stop, byHand }: CheckItem, watched: boolean): string {
  const warned =
    stop === undefined ? '' : html('strong', {}, text(`Stop first without tacks: ${plain(stop)}. `));
  return [
    tick(
      warned,
      text(`${plain(robot)} ${step.n}: ${what}`),
      watched ? '' : html('span', { class: 'watch' }, text(` (${watch})`)),
    ),
    ...byHand.map(({ id, start, length }) =>
      tick(text(`by hand: tack ${plain(id)}, from ${amount(start, 1)} to ${amount(start + length, 1)} mm`)),
    ),
  ].join('');
}

const toldBefore = (items: readonly CheckItem[], at: number): boolean =>
  items.slice(0, at).some(({ watch }) => watch === items[at]!.watch);

/** What to go through in a first try of a stage without arc, with boxes to tick; the robots' steps are numbered as in their programs. */
export function sheetChecklist(runs: readonly CheckRun[], stage: number): string {
  const items = runs
    .filter((run) => run.stage === stage)
    .flatMap((run) => run.items.filter(({ step }) => SEEN.has(step.do)));
  if (items.length === 0) return '';
  return (
    html('h4', {}, text('First try without arc')) +
    html('ul', { class: 'ticks' }, ...items.map((item, i) => itemTicks(item, toldBefore(items, i))))
  );
}
