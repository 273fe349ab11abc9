import type { GeometricPlan } from '../../../model/plan.js';
import { claimText } from '../../claim-text.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';
import { stageRows } from '../../stage-table.js';
import { liftText, searchText, togetherText, triedText } from '../../whole-text.js';
import { html, table, text } from '../html.js';
import type { GeometricContext } from '../page-context.js';
import { textList, valued } from '../pieces.js';

type SubAssembly = NonNullable<GeometricPlan['subAssemblies']>[number];

const some = (count: number): string => (count === 0 ? '-' : amount(count));

const stagesOf = ({ name, plan }: SubAssembly): string =>
  table({
    caption: `The stages of ${plain(name)}`,
    heads: [
      'Stage',
      'Joins',
      'Taken by',
      'Held while tacking',
      'Securing tacks',
      'Later tacks',
      'Weakest point',
    ],
    rows: stageRows(plan.stages).map(({ number, part, taken, held, securing, later, weakest }) => ({
      cells: [String(number), part, taken, held, some(securing), some(later), weakest],
    })),
    numbers: [4, 5],
  });

const tacksOf = ({ name, plan }: SubAssembly): string =>
  table({
    caption: `The tacks of ${plain(name)}`,
    heads: ['Tack', 'Stage', 'Seam', 'Starts at, mm', 'Length, mm', 'When'],
    rows: plan.stages.flatMap(({ number, tacks }) =>
      tacks.map(({ id, seam, start, length, phase }) => ({
        cells: [
          plain(id),
          String(number),
          plain(seam),
          { html: valued(start, amount(start, 1)) },
          { html: valued(length, amount(length, 1)) },
          phase,
        ],
      })),
    ),
    numbers: [3, 4],
  });

const groupOf = (group: SubAssembly): string =>
  [
    html('h3', {}, text(`${plain(group.name)}: ${group.parts.map(plain).join(', ')}`)),
    html('p', {}, text(liftText(group))),
    html('p', { class: 'claim' }, text(claimText(group.plan))),
    stagesOf(group),
    tacksOf(group),
  ].join('');

/** What is tacked apart first, how surely it is lifted, and what was compared; empty where nobody asked for it. */
export function subAssembliesSection({ plan }: GeometricContext): string {
  const { whole, subAssemblies = [] } = plan;
  if (whole === undefined) return '';
  const tried = (whole.search?.tried ?? []).map(triedText);
  return [
    subAssemblies.length === 0
      ? ''
      : html('p', {}, text(`All together: ${togetherText(whole, subAssemblies.length)}`)),
    html('p', {}, text(searchText(whole, subAssemblies.length))),
    textList(tried),
    ...subAssemblies.map(groupOf),
    subAssemblies.length === 0
      ? ''
      : html(
          'p',
          { class: 'faint' },
          text(
            'All other sections are about the weldment that has these as parts. The plan document has the programs, handshakes and poses of each sub-assembly whole, under `subAssemblies`.',
          ),
        ),
  ].join('');
}
