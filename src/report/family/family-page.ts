import type { FamilyResult } from '../../model/family-result.js';
import { coveringText, unsearchedTexts } from '../family-claim-text.js';
import { amount, counted } from '../numbers.js';
import { html, section, text } from '../page/html.js';
import { pageHead } from '../page/page-head.js';
import { plain } from '../plain.js';
import { envelopeSection } from './envelope-section.js';
import { familyFirstThings } from './family-first-things.js';
import { familySmallPrint } from './family-small-print.js';
import { familyView, type FamilyView } from './family-view.js';
import { matrixSection } from './matrix-section.js';
import { patternsSection } from './patterns-section.js';
import { variantsSection } from './variants-section.js';

const SECTIONS: readonly (readonly [id: string, title: string, content: (view: FamilyView) => string])[] = [
  ['first', 'Read first', familyFirstThings],
  ['matrix', 'What builds what', matrixSection],
  ['variants', 'Variants', variantsSection],
  ['patterns', 'Ways of building', patternsSection],
  ['envelope', 'In the ranges', envelopeSection],
  ['small-print', 'Small print', familySmallPrint],
];

/** No script, nothing loaded from anywhere. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

function summary({ result, ordered }: FamilyView): string {
  const { covering, patterns } = result;
  const chosen = covering.chosen.length;
  const found = `${amount(patterns.length)} found`;
  const built = ordered.length - covering.uncovered.length;
  const ways = chosen === 0 ? 'none of them built' : `${amount(built)} built in ${counted(chosen, 'way')}`;
  return `${counted(ordered.length, 'variant')}, ${ways} (${found}).`;
}

/**
 * The report of a family: one page that works by itself, without script and without a network. Links lead to the plans and
 * weldments beside it.
 *
 * @param style the style sheet `browser/family.css`, as it was built
 */
export function familyPage(result: FamilyResult, style: string): string {
  const view = familyView(result);
  const title = `${plain(result.family.name)} on ${plain(result.cell.name)}`;
  const sections = SECTIONS.map(([id, name, content]) => ({
    ...{ id, name },
    content: section({ id, title: name }, content(view)),
  })).filter(({ content }) => content !== '');
  return `<!doctype html>\n${html(
    'html',
    { lang: 'en' },
    pageHead(`${title}: ways of building the family`, POLICY, style),
    '\n',
    html(
      'body',
      {},
      html('a', { class: 'skip', href: '#main' }, 'Skip to the result'),
      header(view, title, sections),
      '\n',
      html('main', { id: 'main' }, ...sections.map(({ content }) => `${content}\n`)),
      html(
        'footer',
        {},
        text('Made by Tackwright from family.json; its numbers are those of that document.'),
      ),
    ),
  )}\n`;
}

const header = (
  view: FamilyView,
  title: string,
  sections: readonly { readonly id: string; readonly name: string }[],
): string =>
  html(
    'header',
    { class: 'head' },
    html('h1', {}, text(title)),
    html('p', { class: 'summary' }, text(summary(view))),
    html('p', {}, text(coveringText(view.result.covering))),
    ...unsearchedTexts(view.result.variants).map((told) => html('p', {}, text(told))),
    html(
      'nav',
      { 'aria-label': 'Sections' },
      html(
        'ul',
        {},
        ...sections.map(({ id, name }) => html('li', {}, html('a', { href: `#${id}` }, text(name)))),
      ),
    ),
  );
