import { toRollPitchYaw, type Pose } from '../../../geometry/pose.js';
import { scale } from '../../../geometry/vector.js';
import type { Handling, PlanPose, Stage } from '../../../model/plan.js';
import type { PlacedPart } from '../../../model/scene.js';
import { remediesText } from '../../accuracy-text.js';
import { sideText } from '../../direction-text.js';
import { shapeText } from '../../inspect-text.js';
import { amount, counted } from '../../numbers.js';
import { plain } from '../../plain.js';
import { heldText } from '../../stage-table.js';
import { text } from '../html.js';
import type { GeometricContext } from '../page-context.js';
import { valued, type FactRow } from '../pieces.js';
import { holdSpanText } from './hold-span.js';
import { gripText, poseText } from './pose-text.js';

const PLACES = { infeed: 'infeed', regrip: 'regrip table', 'two-sided': 'two-sided stand' } as const;

function partFact({ part, mass }: PlacedPart): FactRow {
  const from = part.massGiven === undefined ? 'from its shape' : 'given';
  return [
    'Part',
    `${text(`${shapeText(part.shape)} mm, `)}${valued(mass, `${amount(mass, 2)} kg`)}${text(` (${from}), ${part.material.name}`)}`,
  ];
}

function handlingFacts({ grip, take, put }: Handling, { part }: PlacedPart, nth: number): FactRow[] {
  const source = `${PLACES[take.from]}, lying on ${plain(take.rest)}, ${poseText(take.part)}`;
  const taken: FactRow[] = [
    ...(nth === 0 ? [['Source', text(source)] as const] : []),
    [nth === 0 ? 'Grip' : `Grip after regrip ${nth}`, text(gripText(part.shape, grip, take.part))],
  ];
  if (put.to === 'place') return taken;
  const down = `set down on the ${PLACES[put.to]}, lying on ${plain(put.rest ?? '')}, ${poseText(put.part)}`;
  return [...taken, [`Regrip ${nth + 1}`, text(down)]];
}

function placeFact({ approach, handling }: Stage): FactRow[] {
  const last = handling.at(-1);
  if (approach === null || last === undefined) return [];
  const from = sideText(scale(approach.direction, -1));
  const way = `comes from ${from} in the cell, straight over the last ${amount(approach.distance, 1)} mm`;
  return [['Into place', text(`${way}, ${poseText(last.put.part)}`)]];
}

function heldFact({ plan }: GeometricContext, stage: Stage): FactRow {
  const { held, alsoHeld, part, number } = stage;
  const holds = [
    ...(held === null ? [] : [{ part, robot: held }]),
    ...(alsoHeld ? [{ part: alsoHeld.part, robot: alsoHeld.robot }] : []),
  ];
  const spans = holds.flatMap((one) => {
    const span = holdSpanText(plan, one, number);
    return span === '' ? [] : [holds.length > 1 ? `${plain(one.part)} ${span}` : span];
  });
  return ['Held', text([heldText(stage), ...spans].join('; '))];
}

function accuracyFact({ remedies, accuracy }: Stage): FactRow[] {
  if (accuracy.length === 0 && remedies.length === 0) return [];
  const done = remedies.length === 0 ? 'nothing needed' : remediesText(remedies);
  const sums = accuracy.map(
    ({ direction, total, limit }) =>
      `${text(direction)} ${valued(total, amount(total, 2))} ${text(`of ${amount(limit, 2)}`)}`,
  );
  return [['Accuracy', `${text(done)}${sums.length === 0 ? '' : `; ${sums.join(', ')} mm`}`]];
}

/** A pose as plans state it. */
const stated = ({ at, turn }: Pose): PlanPose => ({ at: [...at], turn: [...toRollPitchYaw(turn)] });

function manualFacts({ manual, part, turn }: Stage, { pose }: PlacedPart): FactRow[] {
  if (manual === undefined) return [];
  const clamp = manual.clamp === null ? '' : `, clamps it with ${plain(manual.clamp)}`;
  const tacks = manual.tacks.length === 0 ? '' : ` and lays ${counted(manual.tacks.length, 'tack')}`;
  return [
    ['Set by hand', text(`a person sets ${plain(part)}${clamp}${tacks}; all robots at home and stopped`)],
    ['Time', valued(manual.seconds, `${amount(manual.seconds)} s planned until it is confirmed`)],
    ['Into place', text(`${poseText(stated(pose))}${turn ? ', with the table at 0 degrees' : ''}`)],
  ];
}

/** What a person at the cell needs to know of a stage beside its tacks. */
export function sheetFacts(context: GeometricContext, stage: Stage, placed: PlacedPart): readonly FactRow[] {
  const turn: FactRow[] =
    stage.turn === undefined
      ? []
      : [['Table', valued(stage.turn, `at ${amount(stage.turn, 3)} degrees in this stage`)]];
  const several = context.cell.handlers.length > 1 && stage.robot !== null;
  return [
    partFact(placed),
    ...(several ? [['Brought by', text(plain(stage.robot ?? ''))] as const] : []),
    ...stage.handling.flatMap((one, nth) => handlingFacts(one, placed, nth)),
    ...placeFact(stage),
    ...manualFacts(stage, placed),
    ...turn,
    heldFact(context, stage),
    ...accuracyFact(stage),
  ];
}
