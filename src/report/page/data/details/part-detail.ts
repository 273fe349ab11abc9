import { shapeText } from '../../../inspect-text.js';
import { amount, listed } from '../../../numbers.js';
import { plain } from '../../../plain.js';
import type { GeometricContext } from '../../page-context.js';
import type { PageDetail } from '../../page-data.js';
import { row } from './rows.js';
import { joiningRows, type TimedStage } from './stage-detail.js';

/** The other parts that a part has joints with. */
function joinedTo({ plan }: GeometricContext, id: string): string {
  const others = plan.joints.flatMap(({ between }) =>
    between.includes(id) ? between.filter((one) => one !== id) : [],
  );
  return listed([...new Set(others)].map(plain));
}

/** What a part is, how it comes to its place and how sure it stands there; `timed` is the stage in which it joins. */
export function partDetail(
  context: GeometricContext,
  index: number,
  timed: TimedStage | undefined,
): PageDetail {
  const placed = context.scene.parts[index]!;
  const { part, mass, thickness } = placed;
  const stage = timed?.view.stage;
  const joins = timed
    ? `in stage ${timed.view.stage.number}, in place at ${amount(timed.times.placed, 1)} s`
    : 'in no stage of the plan';
  return {
    title: plain(part.id),
    rows: [
      ...row('joins', joins),
      ...row('shape', `${shapeText(part.shape)} mm`),
      ...row('thickness', `${amount(thickness, 2)} mm`),
      ...row('material', plain(part.material.name)),
      ...row('mass', `${amount(mass, 3)} kg, ${part.massGiven === undefined ? 'derived' : 'given'}`),
      ...(stage === undefined ? [] : joiningRows(context, timed!)),
      ...row('joined to', joinedTo(context, part.id)),
    ],
  };
}
