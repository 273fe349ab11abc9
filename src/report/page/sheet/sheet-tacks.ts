import type { GeometricPlan, ManualPlanTack, PlanJoint, PlanTack, Stage } from '../../../model/plan.js';
import type { Scene } from '../../../model/scene.js';
import { everyTack } from '../../../rules/stage-tacks.js';
import { sideText } from '../../direction-text.js';
import { amount, listed } from '../../numbers.js';
import { plain } from '../../plain.js';
import { table, text, type Cell } from '../html.js';
import { pickButton, valued } from '../pieces.js';
import { measuredFrom } from './measured-from.js';

const HEADS = ['No.', 'Joint to, side', 'Measured from', 'From, mm', 'To, mm', 'Long', 'Leg', 'Pos.'];

const byRobot = (tack: PlanTack | ManualPlanTack): tack is PlanTack => 'robot' in tack;

interface Seen {
  readonly plan: GeometricPlan;
  readonly scene: Scene;
  readonly stage: Stage;
  /** Whether each row says who lays it. */
  readonly several: boolean;
}

/** The parts of a joint but the newcomer, of which all is said. */
const jointText = ({ between }: PlanJoint, newcomer: string): string =>
  listed((between.includes(newcomer) ? between.filter((name) => name !== newcomer) : between).map(plain));

function tackCells(tack: PlanTack | ManualPlanTack, { plan, scene, stage, several }: Seen): readonly Cell[] {
  const joint = plan.joints.find(({ id }) => id === tack.joint);
  const seam = joint?.seams.find(({ id }) => id === tack.seam);
  const { order, start, length, leg } = tack;
  const number = { html: pickButton(`tack:${stage.number}.${order}`, String(order)) };
  const { text: edge, offset } = measuredFrom(tack, plan, scene);
  const side = seam ? `, ${sideText(seam.open)} side` : '';
  const shown = (value: number): Cell => ({ html: valued(value, amount(value, 1)) });
  return [
    number,
    joint ? `${jointText(joint, stage.part)}${side}` : plain(tack.joint),
    edge.replace(/^the /, ''),
    { html: valued(start, amount(start + offset, 1)) },
    { html: valued(start + length, amount(start + length + offset, 1)) },
    shown(length),
    shown(leg),
    byRobot(tack) ? tack.position : '-',
    byRobot(tack) ? (tack.phase === 'securing' ? 'held' : 'later') : 'by hand',
    ...(several ? [byRobot(tack) ? plain(tack.robot) : 'a person'] : []),
    plain(tack.id),
  ];
}

/** The tacks of a stage in their order, each by its distance from an edge that can be felt; sides as the picture draws the axes. */
export function sheetTacks(plan: GeometricPlan, scene: Scene, stage: Stage): string {
  const tacks = [...everyTack(stage)].sort((a, b) => a.order - b.order);
  if (tacks.length === 0) return text('No tack is laid in this stage.');
  const by = [...new Set(tacks.map((tack) => (byRobot(tack) ? plain(tack.robot) : 'a person')))];
  const several = by.length > 1;
  const who = several ? '' : `, laid by ${by[0]!}`;
  return table({
    caption: `Tacks of stage ${stage.number}, in order${who}; sides and edges as the axes of the picture`,
    heads: [...HEADS, 'When', ...(several ? ['By'] : []), 'Tack'],
    rows: tacks.map((tack) => ({ cells: tackCells(tack, { plan, scene, stage, several }) })),
    numbers: [3, 4, 5, 6],
  });
}
