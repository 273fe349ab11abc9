import { html, text } from './html.js';
import type { Pick } from './page-data.js';

/** A button that picks something on the page; its words are its name. */
export const pickButton = (pick: Pick, label: string, at?: number): string =>
  html('button', { type: 'button', class: 'pick', 'data-pick': pick, 'data-at': at }, text(label));

/** A number of the plan as it is shown, with the very value that the plan has. */
export const valued = (value: number, shown: string): string =>
  html('span', { class: 'value', 'data-value': value }, text(shown));

/** What something is called, and finished content that says what it is. */
export type FactRow = readonly [label: string, content: string];

/** A list of labels and what they are. */
export const factList = (rows: readonly FactRow[]): string =>
  rows.length === 0
    ? ''
    : html(
        'dl',
        { class: 'facts' },
        ...rows.map(([label, content]) =>
          html('div', {}, html('dt', {}, text(label)), html('dd', {}, content)),
        ),
      );

/** A list of texts; empty without any. */
export const textList = (entries: readonly string[], name?: string): string =>
  entries.length === 0
    ? ''
    : html('ul', { class: name }, ...entries.map((entry) => html('li', {}, text(entry))));
