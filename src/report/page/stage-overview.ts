import type { Answer } from '../../explain/why/answer.js';
import type { Plan } from '../../model/plan.js';
import { amount } from '../numbers.js';
import { plain } from '../plain.js';
import { stageRows } from '../stage-table.js';
import { answerText } from '../why-text.js';
import { html, table, text, type Cell } from './html.js';
import {
  isGeometric,
  type AbstractContext,
  type GeometricContext,
  type PageContext,
} from './page-context.js';
import { pickButton, valued } from './pieces.js';

/** The stage that an answer is about; undefined where the plan has none such. */
function stageOf({ has, verdict }: Answer, { stages }: Pick<Plan, 'stages'>): number | undefined {
  switch (has.of) {
    case 'before': {
      // That a part comes first says something of it, whatever comes after.
      const first = verdict.kind === 'forced' && verdict.reasons.every(({ code }) => code === 'first');
      return has.stages[first ? 0 : 1];
    }
    case 'tack':
    case 'hold':
    case 'not-first':
      return has.stage;
    case 'grip':
    case 'regrip':
      return stages.find(({ part }) => part === has.part)?.number;
  }
}

/** A line of an answer that stands by itself: a numbered reason, a labelled value, a refusal. */
const OWN_LINE = /^ {2}\S/;
/** A line after which a sentence does not go on. */
const ENDED = /[.:?]$/;

/** The lines of an answer as paragraphs: those that a terminal had no room for are joined again. */
function paragraphsOf(lines: readonly string[]): readonly string[] {
  const found: string[] = [];
  for (const line of lines)
    if (found.length === 0 || OWN_LINE.test(line) || ENDED.test(found.at(-1)!)) found.push(line.trim());
    else found[found.length - 1] += ` ${line.trim()}`;
  return found;
}

/** One answer: its question, and below it the rest as it is told elsewhere. */
function answerItem(answer: Answer): string {
  const [question, ...rest] = answerText(answer).trimEnd().split('\n');
  return html(
    'div',
    { class: 'answer' },
    html('p', { class: 'question' }, text(question!)),
    ...paragraphsOf(rest).map((paragraph) => html('p', {}, text(paragraph))),
  );
}

/** Why a stage is as it is, folded; a dash where nobody asked and nothing is forced. */
function whyCell(answers: readonly Answer[], stage: number): Cell {
  if (answers.length === 0) return '-';
  const forced = answers.filter(({ verdict }) => verdict.kind === 'forced').length;
  const words = forced === answers.length ? 'forced' : forced === 0 ? 'a choice' : 'forced in part';
  return {
    html: html(
      'details',
      { class: 'why' },
      html('summary', { 'aria-label': `why, stage ${stage}: ${words}` }, text(words)),
      ...answers.map(answerItem),
    ),
  };
}

interface Told {
  readonly of: (stage: number) => readonly Answer[];
  readonly any: boolean;
}

function told({ plan, why }: PageContext): Told {
  const placed = why.map((answer) => ({ answer, stage: stageOf(answer, plan) }));
  return {
    of: (stage) => placed.filter((one) => one.stage === stage).map(({ answer }) => answer),
    any: why.length > 0,
  };
}

const some = (count: number): string => (count === 0 ? '-' : amount(count));

function shapedTable(context: GeometricContext, { of, any }: Told): string {
  const { plan, scene } = context;
  const rows = stageRows(plan.stages).map(({ number, part, taken, held, securing, later, weakest }, i) => {
    const index = scene.index.get(plan.stages[i]!.part);
    return [
      { html: pickButton(`stage:${number}`, String(number)) },
      index === undefined ? part : { html: pickButton(`part:${index}`, part) },
      taken,
      held,
      some(securing),
      some(later),
      weakest,
      ...(any ? [whyCell(of(number), number)] : []),
      { html: html('a', { href: `#sheet-${number}`, class: 'whole' }, text(`sheet ${number}`)) },
    ];
  });
  return table({
    caption: 'The stages in their order',
    heads: [
      ...['Stage', 'Joins', 'Taken by', 'Held while tacking', 'Securing tacks', 'Later tacks'],
      ...['Weakest point', ...(any ? ['Why so'] : []), 'To print'],
    ],
    rows: rows.map((cells) => ({ cells })),
    numbers: [4, 5],
  });
}

const plainTable = ({ plan }: AbstractContext, { of, any }: Told): string =>
  table({
    caption: 'The stages in their order; the parts have no shapes',
    heads: ['Stage', 'Joins', 'Taken by', 'Regrips', 'Tacks', 'Seconds', ...(any ? ['Why so'] : [])],
    rows: plan.stages.map(({ number, part, gripper, regrips, tacks, seconds }) => ({
      cells: [
        String(number),
        plain(part),
        gripper === null ? '-' : plain(gripper),
        { html: valued(regrips, some(regrips)) },
        { html: valued(tacks, some(tacks)) },
        { html: valued(seconds, amount(seconds, 3)) },
        ...(any ? [whyCell(of(number), number)] : []),
      ],
    })),
    numbers: [3, 4, 5],
  });

/** The stages as a table, with reasons where there are some, and how they came to be known. */
export function stageOverview(context: PageContext): string {
  const reasons = told(context);
  return isGeometric(context) ? shapedTable(context, reasons) : plainTable(context, reasons);
}
