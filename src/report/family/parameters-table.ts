import type { BuildPattern } from '../../model/build-pattern.js';
import type { StageParameters } from '../../model/pattern-parameters.js';
import { amount } from '../numbers.js';
import { html, table, text, type Cell } from '../page/html.js';
import { plain } from '../plain.js';
import type { FamilyView } from './family-view.js';

const millimetres = (values: readonly number[]): string => values.map((one) => amount(one, 1)).join(', ');

/** What a variant puts in for one stage: where it is gripped, tacks before and after the let-go, the pull that proves them. */
function stageLines({ grips, tacks, proofPull }: StageParameters): readonly string[] {
  const [last] = grips.slice(-1);
  const count = (phase: string | null): number => tacks.filter((tack) => tack.phase === phase).length;
  const [first, later, byHand] = [count('securing'), count('completing'), count(null)];
  return [
    ...(last === undefined ? [] : [`grip ${millimetres(last.position)}`]),
    ...(first + later === 0 ? [] : [`tacks ${amount(first)} + ${amount(later)}`]),
    ...(byHand === 0 ? [] : [`${amount(byHand)} by hand`]),
    ...(proofPull === null ? [] : [`proof ${amount(proofPull)} N`]),
  ];
}

function cellOf(stage: StageParameters | undefined): Cell {
  if (stage === undefined) return { html: html('span', { class: 'note' }, text('no such part')) };
  const lines = stageLines(stage);
  return lines.length === 0 ? '-' : { html: lines.map(text).join(html('br')) };
}

/** The numbers that each variant puts in for the stages of the pattern that builds it. */
export function parametersTable(
  view: FamilyView,
  { id, stages }: BuildPattern,
  variants: readonly string[],
): string {
  const rows = variants.flatMap((variant) => {
    const parameters = view.field(variant, id)?.parameters;
    return parameters ? [{ variant, parameters }] : [];
  });
  if (rows.length === 0) return '';
  const meaning =
    'What each variant puts in: the grip in mm from the middle of the face, tacks while held + after the let-go, and the pull that proves them.';
  return (
    html('p', {}, text(meaning)) +
    table({
      caption: `Parameters of ${plain(id)}`,
      heads: ['Variant', ...stages.map(({ part }, i) => `${i + 1} ${plain(part)}`)],
      rows: rows.map(({ variant, parameters }) => ({
        cells: [plain(variant), ...stages.map((_, i) => cellOf(parameters.find(({ of }) => of === i + 1)))],
      })),
    })
  );
}
