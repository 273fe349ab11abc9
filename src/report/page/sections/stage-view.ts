import { plain } from '../../plain.js';
import { html, text } from '../html.js';
import type { GeometricContext } from '../page-context.js';

/**
 * Where the script puts the 3D view of the stages. Without it, and where the browser has no WebGL, links lead to the
 * pictures of the stages, which are on the stage sheets.
 */
export const stageView = ({ plan }: GeometricContext): string =>
  html(
    'div',
    { id: 'stage-view' },
    html(
      'p',
      {},
      text('There is no 3D view here: it needs a browser with script and WebGL. The pictures of the stages:'),
    ),
    html(
      'ol',
      {},
      ...plan.stages.map(({ number, part }) =>
        html('li', { value: number }, html('a', { href: `#sheet-${number}` }, text(`${plain(part)} joins`))),
      ),
    ),
  );
