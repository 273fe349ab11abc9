import type { FamilyEnvelope } from '../../model/family-result.js';
import { valuesText } from '../family-claim-text.js';
import { amount, counted } from '../numbers.js';
import { html, table, text, type Cell } from '../page/html.js';
import { textList } from '../page/pieces.js';
import { plain } from '../plain.js';
import { fieldDrawing, rangedOf, stripDrawing, type Ranged } from './envelope-drawing.js';
import type { FamilyView } from './family-view.js';
import { limitsHtml, shortLimit } from './limit-words.js';

const ALONE: Readonly<Record<FamilyEnvelope['boundaries'][number]['alone'], string>> = {
  planned: 'yes, it has a plan of its own',
  impossible: 'no, no plan exists',
  'none-found': 'none was found in the budget',
  'bad-input': 'no, its weldment has errors',
};

const SOURCES: Readonly<Record<FamilyEnvelope['samples'][number]['source'], string>> = {
  corner: 'end of the ranges',
  middle: 'middle',
  sample: 'drawn',
  bisection: 'bisection',
};

function drawings({ result }: FamilyView, envelope: FamilyEnvelope, ids: readonly string[]): string {
  const ranges = rangedOf(result);
  const [x, y, ...more] = ranges;
  if (x === undefined || more.length > 0) return '';
  const legend = html(
    'p',
    { class: 'legend' },
    text('● works, × does not, dashed stroke: between these two it stops working.'),
  );
  if (y === undefined) return legend + html('div', { class: 'chart' }, stripDrawing(envelope, x, ids));
  return legend + html('div', { class: 'fields' }, ...ids.map((id) => fieldDrawing(envelope, [x, y], id)));
}

/** How many of the places that were tried each pattern fits. */
function shares({ samples }: FamilyEnvelope, ids: readonly string[]): readonly string[] {
  return ids.map((id) => {
    const tried = samples.flatMap(({ source, patterns }) =>
      source === 'bisection' ? [] : patterns.filter(({ pattern }) => pattern === id),
    );
    const fitting = tried.filter(({ fits }) => fits).length;
    return `${id}: works at ${amount(fitting)} of ${counted(tried.length, 'place')} at the ends, in the middle and drawn between.`;
  });
}

const ranged = (values: FamilyEnvelope['others'], { resolution }: FamilyEnvelope): string =>
  valuesText(Object.fromEntries(Object.entries(values).filter(([name]) => name in resolution)));

/** Without an end: a pattern that works nowhere has none either. */
const withoutEnds = ({ samples }: FamilyEnvelope): string =>
  samples.every(({ patterns }) => patterns.every(({ fits }) => fits))
    ? 'No place was found at which a chosen pattern stops working.'
    : 'No end was found between a place where a chosen pattern works and one where it does not.';

function boundaries(envelope: FamilyEnvelope): string {
  if (envelope.boundaries.length === 0) return html('p', {}, text(withoutEnds(envelope)));
  return table({
    caption: 'Where a pattern stops working, found by bisection to the resolution',
    heads: ['Pattern', 'Works at', 'Fails at', 'What stops it there', 'Built there by itself'],
    rows: envelope.boundaries.map(({ pattern, works, fails, alone, reasons }) => ({
      cells: [
        plain(pattern),
        ranged(works, envelope),
        ranged(fails, envelope),
        { html: limitsHtml(reasons), attributes: { class: 'stops' } },
        ALONE[alone],
      ],
    })),
  });
}

function tried(envelope: FamilyEnvelope, ids: readonly string[]): string {
  const cell = (id: string, { patterns }: FamilyEnvelope['samples'][number]): Cell => {
    const found = patterns.find(({ pattern }) => pattern === id);
    if (found === undefined) return '-';
    return found.fits ? '● works' : `× ${shortLimit(found.reasons)}`;
  };
  return html(
    'details',
    {},
    html('summary', {}, text(`All ${counted(envelope.samples.length, 'place')} that were tried`)),
    table({
      caption: 'Places that were tried',
      heads: ['Place', 'Found as', ...ids.map(plain)],
      rows: envelope.samples.map((sample) => ({
        cells: [
          ranged(sample.values, envelope),
          SOURCES[sample.source],
          ...ids.map((id) => cell(id, sample)),
        ],
      })),
    }),
  );
}

function rangeText({ name, unit, low, high }: Ranged, step: number | undefined): string {
  const own = unit === undefined ? '' : ` ${plain(unit)}`;
  const steps = step === undefined ? '' : `, in steps of ${amount(step, 6)}${own}`;
  return `${plain(name)} ${amount(low, 3)} to ${amount(high, 3)}${own}${steps}`;
}

/** Where in the ranges the chosen patterns work, where they end and what ends them; empty without ranges. */
export function envelopeSection(view: FamilyView): string {
  const { envelope } = view.result;
  if (envelope === null) return '';
  const ids = view.chosen.map(({ id }) => id);
  const ranges = rangedOf(view.result).map((range) => rangeText(range, envelope.resolution[range.name]));
  const others = Object.keys(envelope.others).length === 0 ? '' : ` With ${valuesText(envelope.others)}.`;
  return [
    html(
      'p',
      {},
      text(
        `Anything in these ranges may be ordered: ${ranges.join('; ')}.${others} Patterns were tried at single places (seed ${amount(envelope.seed)}); nothing is proved between them.`,
      ),
    ),
    textList(shares(envelope, ids)),
    drawings(view, envelope, ids),
    boundaries(envelope),
    tried(envelope, ids),
  ].join('');
}
