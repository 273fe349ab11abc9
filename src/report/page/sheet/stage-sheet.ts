import type { Stage } from '../../../model/plan.js';
import type { PlacedPart } from '../../../model/scene.js';
import type { CheckRun } from '../../checklist.js';
import { plain } from '../../plain.js';
import { html, text } from '../html.js';
import { inlineSvg, type Crop } from '../inline-svg.js';
import type { GeometricContext } from '../page-context.js';
import { factList } from '../pieces.js';
import { sheetCautions } from './sheet-cautions.js';
import { sheetChecklist } from './sheet-checklist.js';
import { sheetFacts } from './sheet-facts.js';
import { sheetReserves } from './sheet-reserves.js';
import { sheetSignals } from './sheet-signals.js';
import { sheetTacks } from './sheet-tacks.js';

/** Of the picture of a stage: all but its heading, which the sheet has itself, and room for larger names beside it. */
const PICTURE: Crop = [-30, 66, 1020, 684];

const LEGEND =
  'Hatched: the part that joins. Red bar: a tack that is laid while it is held; red outline: a later one; both by their ' +
  'numbers; thin: hidden. Blue: where it bears on others. x, y, z: the axes of the weldment.';

export interface SheetParts {
  readonly stage: Stage;
  /** The newcomer; undefined where the weldment file has no such part. */
  readonly placed: PlacedPart | undefined;
  /** Undefined where there is none. */
  readonly svg: string | undefined;
  readonly runs: readonly CheckRun[];
}

function heading({ plan }: GeometricContext, { number, part }: Stage): string {
  const { length } = plan.stages;
  return [
    html('h3', { id: `sheet-${number}-title` }, text(`Stage ${number} of ${length}: ${plain(part)} joins`)),
    html(
      'p',
      { class: 'sheet-of' },
      text(`${plain(plan.weldment.name)} on ${plain(plan.cell.name)}`),
      html('span', { class: 'print-only' }, text('Tried on ____________ by ____________________')),
    ),
  ].join('');
}

/** Opens and closes a sheet on the screen, without a script; in print every sheet is open. */
const opener = ({ number }: Stage): string =>
  html('input', { type: 'checkbox', class: 'open-sheet', id: `open-sheet-${number}` }) +
  html('label', { for: `open-sheet-${number}` }, text(`Show the sheet of stage ${number}`));

/** One sheet to print: what a person at the cell needs to try a stage by hand. */
export function stageSheet(context: GeometricContext, { stage, placed, svg, runs }: SheetParts): string {
  const { plan, scene } = context;
  const { number } = stage;
  return html(
    'article',
    { id: `sheet-${number}`, class: 'sheet', 'aria-labelledby': `sheet-${number}-title` },
    heading(context, stage),
    opener(stage),
    html(
      'div',
      { class: 'sheet-inside' },
      html(
        'div',
        { class: 'sheet-top' },
        placed === undefined ? '' : factList(sheetFacts(context, stage, placed)),
        svg === undefined
          ? ''
          : html(
              'figure',
              { class: 'sheet-picture' },
              inlineSvg(svg, `sheet-${number}`, PICTURE),
              html('figcaption', {}, text(LEGEND)),
            ),
      ),
      sheetTacks(plan, scene, stage),
      html(
        'div',
        { class: 'sheet-pair' },
        html('div', {}, sheetSignals(plan, stage)),
        html('div', {}, sheetReserves(stage)),
      ),
      sheetCautions(plan, stage),
      sheetChecklist(runs, number),
    ),
  );
}
