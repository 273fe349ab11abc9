import type { PageData, PageDetail, Pick } from '../../../report/page/page-data.js';
import type { Picks } from '../../picks.js';
import { make } from './element.js';

/** What is picked anywhere on the page, as text; and a list to pick from without pointing. */
export function pickedPanel(data: PageData, picks: Picks): HTMLElement {
  const select = make('select', {}, ...options(data));
  select.addEventListener('change', () =>
    picks.set(select.value === '' ? undefined : (select.value as Pick)),
  );
  const content = make('div', { class: 'picked-data', 'aria-live': 'polite' });
  const show = (pick: Pick | undefined): void => {
    select.value = pick ?? '';
    if (select.selectedIndex < 0) select.value = '';
    const title = select.value === '' ? undefined : select.selectedOptions[0]?.textContent;
    const bare = title ? { title, rows: [] } : undefined;
    content.replaceChildren(...shown(pick === undefined ? undefined : (data.details[pick] ?? bare)));
  };
  picks.listen(show);
  show(undefined);
  return make(
    'div',
    { class: 'picked-panel' },
    make('label', {}, make('span', {}, 'Picked'), select),
    content,
  );
}

function shown(detail: PageDetail | undefined): HTMLElement[] {
  if (!detail)
    return [make('p', {}, 'Click a part, a seam or a tack, or choose one, to read about it here.')];
  const rows = detail.rows.flatMap(([label, text]) => [make('dt', {}, label), make('dd', {}, text)]);
  return [make('h3', {}, detail.title), make('dl', {}, ...rows)];
}

function options(data: PageData): HTMLElement[] {
  const nameOf = (part: number): string => data.parts[part]?.name ?? '';
  const group = (label: string, list: readonly (readonly [string, string])[]): HTMLElement =>
    make('optgroup', { label }, ...list.map(([value, text]) => make('option', { value }, text)));
  return [
    make('option', { value: '' }, 'nothing'),
    group(
      'Parts',
      data.parts.map(({ name }, i) => [`part:${i}`, name]),
    ),
    group(
      'Joints',
      data.joints.map(({ pick, between: [a, b] }) => [pick, `${nameOf(a)} with ${nameOf(b)}`]),
    ),
    group(
      'Tacks',
      data.stages.flatMap(({ number, tacks }) =>
        tacks.map(({ pick, order }) => [pick, `stage ${number}, tack ${order}`] as const),
      ),
    ),
  ];
}
