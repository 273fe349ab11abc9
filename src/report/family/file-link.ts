import { besidePathSchema } from '../../model/scalars.js';
import { html, text } from '../page/html.js';

/**
 * A link to a file beside the page; nothing without one. Only a plain path below the folder is made a link, so that no
 * document can lead elsewhere.
 */
export function fileLink(file: string | null | undefined, label: string): string {
  if (file === null || file === undefined || !besidePathSchema.safeParse(file).success) return '';
  const href = file.split('/').map(encodeURIComponent).join('/');
  return html('a', { href, class: 'whole' }, text(label));
}
