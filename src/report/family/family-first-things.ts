import type { VariantResult } from '../../model/family-result.js';
import { amount, counted } from '../numbers.js';
import { html, text } from '../page/html.js';
import { textList } from '../page/pieces.js';
import { plain } from '../plain.js';
import type { FamilyView } from './family-view.js';
import { limitsHtml } from './limit-words.js';

const WHY_NOT: Readonly<Record<VariantResult['outcome'], string>> = {
  planned: 'it has a plan of its own, but no pattern builds it',
  impossible: 'no plan exists',
  'none-found': 'no plan was found in the budget, and one may exist',
  'bad-input': 'its weldment has errors',
};

const block = (title: string, content: string): string =>
  content === '' ? '' : html('h3', {}, text(title)) + content;

/** Variants that nothing builds, each with its reason; where only patterns fail, with theirs. */
function unbuilt(view: FamilyView): string {
  const { covering, matrix } = view.result;
  const rows = view.ordered.filter(({ name }) => covering.uncovered.includes(name));
  const items = rows.map(({ name, outcome, reasons }) => {
    const told =
      reasons.length > 0 ? reasons : matrix.flatMap((one) => (one.variant === name ? one.reasons : []));
    return html('li', {}, text(`${plain(name)}: ${WHY_NOT[outcome]}: `), limitsHtml(told));
  });
  return items.length === 0 ? '' : html('ul', { class: 'warnings' }, ...items);
}

/** What must be read before anything else: what is not built, warnings, cautions. */
export function familyFirstThings(view: FamilyView): string {
  const { warnings, cautions, covering } = view.result;
  const missing = covering.uncovered.length;
  const built = view.ordered.length - missing;
  const verdict =
    missing === 0
      ? html(
          'p',
          { class: 'verdict kept' },
          text(`Every variant is built; each of their plans has passed every rule.`),
        )
      : html(
          'p',
          { class: 'verdict broken' },
          text(`${counted(missing, 'variant')} of ${amount(view.ordered.length)} cannot be built as asked.`),
        ) +
        (built === 0
          ? ''
          : html('p', {}, text(`The plans of the other ${amount(built)} have passed every rule.`)));
  return [
    verdict,
    block('Not built, and why', unbuilt(view)),
    block('Warnings', textList(warnings.map(plain), 'warnings')),
    block('Cautions', textList(cautions.map(plain), 'cautions')),
  ].join('');
}
