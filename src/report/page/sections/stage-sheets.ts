import { BEFORE_FIRST_STEP, checkRuns } from '../../checklist.js';
import { stagePictures } from '../../pictures.js';
import { ON_PAGE_STILL } from '../../theme.js';
import { html, text } from '../html.js';
import type { GeometricContext } from '../page-context.js';
import { stageSheet } from '../sheet/stage-sheet.js';

const ONLY = 'only-sheets';

/** How to use the sheets: on the screen they are folded, on paper each has a page of its own. */
const use = (): string =>
  html(
    'div',
    { class: 'sheets-use' },
    html(
      'p',
      {},
      text(
        'One sheet a stage, for a person who tries the plan at the cell. In print every sheet is open and begins a page.',
      ),
    ),
    html('input', { type: 'checkbox', id: ONLY }),
    html('label', { for: ONLY }, text('Print nothing but the sheets')),
    html('h3', {}, text('Before the first step')),
    html('ul', { class: 'ticks' }, ...BEFORE_FIRST_STEP.map((line) => html('li', {}, text(line)))),
    html(
      'p',
      { class: 'faint' },
      text(
        'Each sheet lists what can be seen to go wrong; `tackwright export --checklist` lists every single step.',
      ),
    ),
  );

/** A sheet to print for every stage. */
export function stageSheets(context: GeometricContext): string {
  const { plan, scene } = context;
  const pictures = stagePictures(plan, scene, { legend: false, theme: ON_PAGE_STILL });
  const runs = checkRuns(plan);
  const sheets = plan.stages.map((stage) => {
    const part = scene.index.get(stage.part);
    const placed = part === undefined ? undefined : scene.parts[part];
    return stageSheet(context, { stage, placed, svg: pictures.get(stage.number), runs });
  });
  return use() + sheets.join('\n');
}
