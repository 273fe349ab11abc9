import type { PlanFigures, VariantResult } from '../../model/family-result.js';
import { extraText } from '../family-claim-text.js';
import { amount, duration, tenthsOf } from '../numbers.js';
import { html, table, text, type Cell } from '../page/html.js';
import { plain } from '../plain.js';
import { againstText } from '../weakest-point.js';
import type { FamilyView } from './family-view.js';
import { fileLink } from './file-link.js';
import { limitsHtml } from './limit-words.js';

const HEADS = [
  ...['Variant', 'Parts', 'Built by', 'Regrips', 'Tool changes', 'Tacks', 'Cycle time'],
  ...['Beyond its own best', 'Distortion used', 'Least reserve, or what stops it', 'Files'],
];

/** The plan by which a variant is built: by its pattern, else its own where there is one. */
function built(view: FamilyView, { name, own }: VariantResult) {
  const pattern = view.builtBy(name);
  const field = pattern === undefined ? undefined : view.field(name, pattern);
  return { pattern, figures: field?.figures ?? own, extra: field?.extra ?? null };
}

function reserveText({ leastReserve: least }: PlanFigures): string {
  if (least === null) return 'not judged';
  const { reserve, required, stage, case: load, weakest } = least;
  return `${againstText(reserve, required)}, stage ${stage}, ${plain(load)}: ${plain(weakest)}`;
}

/** Links to the plan that is used, to the own best one and to the weldment. */
function files(view: FamilyView, variant: VariantResult): Cell {
  const { pattern, figures } = built(view, variant);
  const links = [
    pattern === undefined ? '' : fileLink(figures?.file, `plan by ${plain(pattern)}`),
    fileLink(variant.own?.file, 'own plan'),
    fileLink(variant.weldmentFile, 'weldment'),
  ].filter((link) => link !== '');
  return links.length === 0 ? '-' : { html: links.join(html('br')) };
}

function cellsOf(view: FamilyView, variant: VariantResult): readonly Cell[] {
  const { pattern, figures, extra } = built(view, variant);
  const name = plain(variant.name);
  const parts = amount(variant.parts);
  if (figures === null)
    return [
      ...[name, parts, '-', '-', '-', '-', '-', '-', '-'],
      { html: limitsHtml(variant.reasons), attributes: { class: 'stops' } },
      files(view, variant),
    ];
  const { regrips, toolChanges, tacks, seconds, distortion } = figures;
  return [
    ...[name, parts, pattern === undefined ? 'its own plan' : plain(pattern)],
    ...[amount(regrips), amount(toolChanges), amount(tacks), duration(tenthsOf(seconds))],
    pattern === undefined ? '-' : extraText(extra),
    distortion === null ? 'no limit set' : `${amount(distortion * 100)} %`,
    reserveText(figures),
    files(view, variant),
  ];
}

/** What each variant comes to by the pattern that builds it, what limits it, and its files. */
export const variantsSection = (view: FamilyView): string =>
  html(
    'p',
    {},
    text(
      'Figures are those of the plan by the pattern that builds the variant. Times, reserves and distortion are estimates.',
    ),
  ) +
  table({
    caption: 'What each variant comes to',
    heads: HEADS,
    rows: view.ordered.map((variant) => ({
      cells: cellsOf(view, variant),
      attributes: view.builtBy(variant.name) === undefined ? { class: 'unbuilt' } : {},
    })),
    numbers: [1, 3, 4, 5],
  });
