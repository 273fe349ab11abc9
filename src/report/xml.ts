import { rounded } from '../base/order.js';
import { plain } from './plain.js';

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Characters that XML does not allow, beyond those that `plain` already escapes. */
const NOT_XML = /[\ufffe\uffff]/g;

/** Any text as it may stand in XML, between tags or in an attribute. */
export const escaped = (text: string): string =>
  plain(text)
    .replace(NOT_XML, '\ufffd')
    .replace(/[&<>"']/g, (mark) => ENTITIES[mark]!);

export type Attributes = Readonly<Record<string, string | number | undefined>>;

const attributeText = (attributes: Attributes): string =>
  Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(
      ([name, value]) =>
        ` ${name}="${typeof value === 'number' ? String(rounded(value, 2)) : escaped(value!)}"`,
    )
    .join('');

/** An element with finished content inside it. Attributes are escaped here; numbers in them have two decimals. */
export const element = (name: string, attributes: Attributes, ...content: readonly string[]): string =>
  content.length === 0
    ? `<${name}${attributeText(attributes)}/>`
    : `<${name}${attributeText(attributes)}>${content.join('')}</${name}>`;
