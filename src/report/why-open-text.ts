import type { Verdict } from '../explain/why/answer.js';
import type { OpenVerdict, Terms } from '../explain/why/open.js';
import { termText } from './claim-text.js';
import { deepestLines, fallenLines, remedyLines } from './none-found-text.js';
import { counted, listed } from './numbers.js';
import { paragraph } from './text-table.js';
import { worthText } from './why-worth-text.js';

const termsText = (terms: Terms): string => listed(terms.map(({ term, value }) => termText(term, value)));

/** So many times the states that a search looked at are advised for the next; our choice. */
const MORE = 4;

/** Steps to give the question, of two leading digits: alone they count alone, whatever ended the budget before. */
function moreSteps(states: number): string {
  const steps = Math.max(1000, MORE * states);
  const unit = 10 ** Math.max(0, Math.floor(Math.log10(steps)) - 1);
  return `--steps ${Math.ceil(steps / unit) * unit}`;
}

/** How far the search came, and what to do about it. */
function endText({ states, ...verdict }: OpenVerdict): string {
  const waiting = 'waiting' in verdict ? verdict.waiting : undefined;
  const open = waiting === undefined ? '' : ` with ${counted(waiting, 'state')} still open`;
  return `after ${counted(states, 'state')}${open}`;
}

/** How much more every plan costs that was not found. */
function dearerText(verdict: OpenVerdict & { kind: 'dearer' }, otherwise: string): string {
  const { atLeast, searched, states } = verdict;
  const before = searched ? ', before its tacks are put in an order that distorts less' : '';
  return `A choice: it saves at least ${termText(atLeast.term, atLeast.value)} (proved) against any plan ${otherwise}${before}. None was found when the budget ended ${endText(verdict)}, so that what the best of them costs, or whether there is one, is left open: ask again with ${moreSteps(states)}.`;
}

function openText(verdict: OpenVerdict & { kind: 'open' }, otherwise: string): string {
  return `Not found out in the budget: it ended ${endText(verdict)}, before a plan was found ${otherwise} and before it was proved that there is none. Proved: compared term by term, no such plan does better than ${termsText(verdict.bound)}. Ask again with ${moreSteps(verdict.states)}.`;
}

/** What is known where the budget ended before a plan was found. `otherwise`: what it would have otherwise. */
export function openLines(verdict: OpenVerdict, otherwise: string): readonly string[] {
  if (verdict.kind === 'unknown')
    return paragraph(
      '',
      `Unknown in the budget: it ended ${endText(verdict)}, before a plan was found ${otherwise} and before it was proved that there is none. Ask again with ${moreSteps(verdict.states)}.`,
    );
  const said = verdict.kind === 'dearer' ? dearerText(verdict, otherwise) : openText(verdict, otherwise);
  return [
    ...paragraph('', said),
    ...paragraph('  the plan:  ', worthText(verdict.given)),
    ...(verdict.kind === 'dearer'
      ? paragraph('  the other: ', `no better than ${termsText(verdict.bound)} (proved)`)
      : []),
    ...deepestLines(verdict),
  ];
}

/** That every order was refused as a whole, and by what. */
export function forcedInOrdersLines(
  { refused, reasons }: Verdict & { kind: 'forced-in-orders' },
  otherwise: string,
): readonly string[] {
  const all = refused === 1 ? 'The only such order fell' : `All such orders (${refused}) fell`;
  return [
    ...paragraph(
      '',
      `Forced among the orders judged: there is no plan ${otherwise} with the grips and tacks that come first in each. ${all} when the assembly was judged as a whole; with other grips or tacks one may stand. What they fell by:`,
    ),
    ...fallenLines(reasons),
    ...remedyLines(reasons),
  ];
}
