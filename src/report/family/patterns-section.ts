import type { BuildPattern, PatternStage } from '../../model/build-pattern.js';
import { someNames } from '../family-claim-text.js';
import { amount, counted } from '../numbers.js';
import { html, table, text, type Cell } from '../page/html.js';
import { plain } from '../plain.js';
import type { FamilyView } from './family-view.js';
import { limitsHtml } from './limit-words.js';
import { parametersTable } from './parameters-table.js';
import { gripWords, heldWords, placeWords, regripWords } from './pattern-words.js';

const lines = (texts: readonly string[]): Cell =>
  texts.length === 0 ? '-' : { html: texts.map(text).join(html('br')) };

interface Column {
  readonly head: string;
  readonly cell: (stage: PatternStage) => Cell;
  /** False where no stage of the pattern has anything to say in it. */
  readonly used: boolean;
}

/** Signals by their state and who waits for it; with more than two robots also who gives it. */
function signals({ handshakes }: PatternStage, several: boolean): Cell {
  const told = handshakes.map(({ state, from, to }) =>
    html(
      'span',
      { class: 'whole' },
      text(`${plain(state)} ${several ? `${plain(from)} ` : ''}→ ${plain(to)}`),
    ),
  );
  return told.length === 0 ? '-' : { html: told.join(html('br')) };
}

function columnsOf({ stages }: BuildPattern): readonly Column[] {
  const robots = new Set(
    stages.flatMap(({ handshakes }) => handshakes.flatMap(({ from, to }) => [from, to])),
  );
  const always = (head: string, cell: Column['cell']): Column => ({ head, cell, used: true });
  return [
    always('Joins', ({ part }) => plain(part)),
    always('Brought by', ({ robot }) => (robot === null ? 'a person' : plain(robot))),
    {
      head: 'Regrips before',
      cell: (stage) => lines(regripWords(stage)),
      used: stages.some(({ regrips }) => regrips.length > 0),
    },
    always('Taken by', ({ grip }) => (grip === null ? '-' : gripWords(grip))),
    always('Where on the face', ({ grip }) => (grip === null ? '-' : placeWords(grip.place))),
    always('Held while tacked', heldWords),
    {
      head: 'Table at',
      cell: ({ turn }) => (turn === 0 ? '-' : `${amount(turn, 1)}°`),
      used: stages.some(({ turn }) => turn !== 0),
    },
    {
      head: 'Signals',
      cell: (stage) => signals(stage, robots.size > 2),
      used: robots.size > 0,
    },
  ];
}

function stagesTable(pattern: BuildPattern): string {
  const columns = columnsOf(pattern).filter(({ used }) => used);
  return table({
    caption: `The stages of ${plain(pattern.id)}`,
    heads: ['Stage', ...columns.map(({ head }) => head)],
    rows: pattern.stages.map((stage, i) => ({
      cells: [String(i + 1), ...columns.map(({ cell }) => cell(stage))],
    })),
    numbers: [0],
  });
}

/** Variants that the pattern does not build, those with one reason together. */
function misses(view: FamilyView, id: string): string {
  const reasons = new Map<string, string[]>();
  for (const { name } of [...view.ordered, ...view.places]) {
    const field = view.field(name, id);
    if (field === undefined || field.fits) continue;
    const told = limitsHtml(field.reasons);
    reasons.set(told, [...(reasons.get(told) ?? []), name]);
  }
  if (reasons.size === 0) return html('p', {}, text('It fits every variant.'));
  const entries = [...reasons].map(([told, names]) => html('li', {}, text(`${someNames(names)}: `), told));
  return html('h4', {}, text('What it does not build, and why')) + html('ul', {}, ...entries);
}

function chosenPattern(view: FamilyView, pattern: BuildPattern): string {
  const { variants } = view.result.covering.chosen.find((one) => one.pattern === pattern.id)!;
  const from = `Taken from the plan of ${plain(pattern.from)}; builds ${someNames(variants)}.`;
  return html(
    'article',
    { id: `pattern-${pattern.id}`, class: 'pattern' },
    html('h3', {}, text(`${plain(pattern.id)}: builds ${counted(variants.length, 'variant')}`)),
    html('p', {}, text(from)),
    stagesTable(pattern),
    parametersTable(view, pattern, variants),
    misses(view, pattern.id),
  );
}

/** A pattern that was found and is not needed, folded. */
function otherPattern(view: FamilyView, pattern: BuildPattern): string {
  const fits = view.ordered.filter(({ name }) => view.field(name, pattern.id)?.fits === true);
  const told = fits.length === 0 ? 'fits no variant' : `fits ${someNames(fits.map(({ name }) => name))}`;
  return html(
    'details',
    { id: `pattern-${pattern.id}` },
    html('summary', {}, text(`${plain(pattern.id)}, from the plan of ${plain(pattern.from)}: ${told}`)),
    stagesTable(pattern),
    misses(view, pattern.id),
  );
}

const MEANING =
  'A grip is told by its gripper and the face of the part. Where on the face: from its middle along its two axes, 100 % at the last place on which the pads fit. A variant that lacks a part leaves its stage out.';

/** The chosen patterns stage by stage with what each variant puts in, then the others that were found. */
export function patternsSection(view: FamilyView): string {
  const others = view.others.map((pattern) => otherPattern(view, pattern));
  return [
    html('p', {}, text(MEANING)),
    ...view.chosen.map((pattern) => chosenPattern(view, pattern)),
    ...(others.length === 0 ? [] : [html('h3', {}, text('Found, and not needed')), ...others]),
  ].join('');
}
