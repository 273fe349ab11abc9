import { freeAcross } from '../across.js';
import type { ChartDrawing } from '../chart-rows.js';
import type { Across } from '../across.js';
import { ON_PAGE, type Theme } from '../theme.js';
import { element } from '../xml.js';
import { html } from './html.js';

/** Width that a chart is laid out for, pixels; it takes what there is. */
const PIXELS = 760;
/** Room to the left of its first letters and to the right of its last. */
const MARGIN = 2;

/** A chart as a drawing of a page that is as wide as there is room. */
export function pageChart(name: string, draw: (across: Across, theme: Theme) => ChartDrawing): string {
  const { content, height } = draw(freeAcross(PIXELS), ON_PAGE);
  return html(
    'div',
    { class: 'chart', tabindex: 0, role: 'region', 'aria-label': name },
    element(
      'svg',
      { class: 'drawing', height: height + MARGIN, role: 'group', 'aria-label': name },
      ...content,
    ),
  );
}
