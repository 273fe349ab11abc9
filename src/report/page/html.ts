import { escaped } from '../xml.js';

export type HtmlAttributes = Readonly<Record<string, string | number | boolean | undefined>>;

/** Elements that HTML closes by itself. */
const VOID: ReadonlySet<string> = new Set(['br', 'hr', 'img', 'input', 'link', 'meta', 'col']);

const attributeText = (attributes: HtmlAttributes): string =>
  Object.entries(attributes)
    .filter(([, value]) => value !== undefined && value !== false)
    .map(([name, value]) => (value === true ? ` ${name}` : ` ${name}="${escaped(String(value))}"`))
    .join('');

/** An element with finished content inside; attributes are escaped here. */
export const html = (name: string, attributes: HtmlAttributes = {}, ...content: readonly string[]): string =>
  VOID.has(name)
    ? `<${name}${attributeText(attributes)}>`
    : `<${name}${attributeText(attributes)}>${content.join('')}</${name}>`;

/** Text from anywhere as it may stand between tags, whatever is in it. */
export const text = escaped;

/** A cell of a table: text, or finished content with its attributes. */
export type Cell = string | { readonly html: string; readonly attributes?: HtmlAttributes };

const cellOf = (name: 'td' | 'th', cell: Cell, attributes: HtmlAttributes = {}): string =>
  typeof cell === 'string'
    ? html(name, attributes, text(cell))
    : html(name, { ...attributes, ...cell.attributes }, cell.html);

export interface TableParts {
  readonly caption: string;
  readonly heads: readonly Cell[];
  readonly rows: readonly { readonly cells: readonly Cell[]; readonly attributes?: HtmlAttributes }[];
  /** Places of columns with numbers, which are set to the right. */
  readonly numbers?: readonly number[];
}

/** A table that scrolls sideways by itself where the page is narrow; the first cell of a row heads it. */
export function table({ caption, heads, rows, numbers = [] }: TableParts): string {
  const side = (column: number): HtmlAttributes => (numbers.includes(column) ? { class: 'number' } : {});
  return html(
    'div',
    { class: 'wide', tabindex: 0, role: 'region', 'aria-label': caption },
    html(
      'table',
      {},
      html('caption', {}, text(caption)),
      html(
        'thead',
        {},
        html('tr', {}, ...heads.map((head, i) => cellOf('th', head, { scope: 'col', ...side(i) }))),
      ),
      html(
        'tbody',
        {},
        ...rows.map(({ cells, attributes }) =>
          html(
            'tr',
            attributes,
            ...cells.map((cell, i) =>
              i === 0 ? cellOf('th', cell, { scope: 'row', ...side(i) }) : cellOf('td', cell, side(i)),
            ),
          ),
        ),
      ),
    ),
  );
}

export interface SectionParts {
  /** Made by us, letters and dashes: links lead to it. */
  readonly id: string;
  readonly title: string;
}

/** A section of the page with its heading; an empty one is left out. */
export const section = ({ id, title }: SectionParts, ...content: readonly string[]): string => {
  const inside = content.join('');
  return inside === ''
    ? ''
    : html(
        'section',
        { id, 'aria-labelledby': `${id}-title` },
        html('h2', { id: `${id}-title` }, text(title)),
        inside,
      );
};
