import { createHash } from 'node:crypto';
import { termText } from '../claim-text.js';
import { counted } from '../numbers.js';
import { plain } from '../plain.js';
import { everyTack } from '../../rules/stage-tacks.js';
import { html, text } from './html.js';
import { isGeometric, type GeometricContext, type PageContext } from './page-context.js';
import { packed } from './packed-json.js';
import { pageHead } from './page-head.js';
import { pageData } from './page-data-of.js';
import { sectionsOf } from './sections/sections.js';

/** What is built for the browser, see `src/browser`: one script and one style sheet. */
export interface PageAssets {
  readonly script: string;
  readonly style: string;
}

/**
 * JSON that may stand in a script element: nothing in it can end the element or begin a comment. Its texts are as safe to
 * show as those of the page.
 */
const inlineJson = (value: unknown): string =>
  JSON.stringify(value, (_, member: unknown) =>
    typeof member === 'string' ? plain(member) : member,
  ).replace(/[<>&\u2028\u2029]/g, (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`);

/**
 * The browser may run this one script and nothing else, and may ask nobody for anything. Styles stand in attributes too,
 * as where a name lies in a drawing; they can load nothing either.
 */
const policy = (script: string): string =>
  [
    "default-src 'none'",
    `script-src 'sha256-${createHash('sha256').update(script).digest('base64')}'`,
    "style-src 'unsafe-inline'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');

/** What the plan is of, and what it is worth, in one line. */
function summary(context: PageContext): string {
  const { plan } = context;
  const shapes = isGeometric(context) ? '' : ' without shapes';
  const joints = isGeometric(context)
    ? `, ${counted(context.plan.joints.length, 'joint')}, ${counted(tackCount(context), 'tack')}`
    : '';
  const worth = plan.objective.map(({ term, value }) => termText(term, value)).join(', ');
  return `${counted(plan.stages.length, 'part')}${shapes}${joints}. ${worth}.`;
}

const tackCount = ({ plan }: GeometricContext): number =>
  plan.stages.reduce((sum, stage) => sum + everyTack(stage).length, 0);

/**
 * The page of a plan: one file that works by itself, without a network. Without the script everything but the 3D view
 * and what ties things to it can be read.
 */
export function pageHtml(context: PageContext, { script, style }: PageAssets): string {
  const { plan } = context;
  const title = isGeometric(context)
    ? `${plan.weldment.name} on ${context.plan.cell.name}`
    : plan.weldment.name;
  const sections = sectionsOf(context);
  const data = isGeometric(context) ? pageData(context) : undefined;
  return `<!doctype html>\n${html(
    'html',
    { lang: 'en' },
    pageHead(`${title}: plan of the tack-up`, policy(script), style),
    '\n',
    html(
      'body',
      {},
      html('a', { class: 'skip', href: '#main' }, 'Skip to the plan'),
      html(
        'header',
        { class: 'head' },
        html('h1', {}, text(title)),
        html('p', { class: 'summary' }, text(summary(context))),
        html(
          'nav',
          { 'aria-label': 'Sections' },
          html(
            'ul',
            {},
            ...sections.map(({ id, title: name }) =>
              html('li', {}, html('a', { href: `#${id}` }, text(name))),
            ),
          ),
        ),
      ),
      '\n',
      html('main', { id: 'main' }, ...sections.map(({ content }) => `${content}\n`)),
      html(
        'footer',
        {},
        text('Made by Tackwright from the plan document; its numbers are those of the plan.'),
      ),
      data === undefined
        ? ''
        : `\n<script type="application/json" id="page-data">${inlineJson(packed(data))}</script>`,
      `\n<script>${script}</script>`,
    ),
  )}\n`;
}
