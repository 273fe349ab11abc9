import type { GeometricPlan, Handshake } from '../../../model/plan.js';
import type { Safety } from '../../../model/plan-safety.js';
import { faultRows, faultsText, reworkText } from '../../fault-text.js';
import { handshakesText } from '../../handshakes-text.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';
import { html, table, text, type Cell } from '../html.js';
import type { GeometricContext } from '../page-context.js';
import { pickButton, textList, valued } from '../pieces.js';
import { dropZoneText } from '../sheet/sheet-cautions.js';

const WAITING: Readonly<Record<Handshake['waiting'], string>> = {
  holding: 'holds a part in place',
  carrying: 'carries a part',
  empty: 'has no part',
  'torch-away': 'torch outside the work zone',
  'torch-near': 'torch in the work zone, arc off',
};

/** When the step of a program ends that signals, or begins that waits; undefined where no program has it. */
const momentOf = ({ programs }: GeometricPlan, { robot, step }: Handshake['from']): number | undefined =>
  programs.find((one) => one.robot === robot)?.steps.find(({ n }) => n === step)?.end;

function signalCells(plan: GeometricPlan, one: Handshake, index: number): readonly Cell[] {
  const { id, name, line, from, to, meaning, guards, waiting, timeLimit, reaction } = one;
  const words = `${plain(name)} (${plain(id)})${line === undefined ? '' : `, line ${line}`}`;
  return [
    { html: pickButton(`handshake:${index}`, words, momentOf(plan, from)) },
    `${plain(from.robot)}, step ${from.step}`,
    `${plain(to.robot)}, step ${to.step}`,
    plain(meaning),
    plain(guards),
    WAITING[waiting],
    { html: valued(timeLimit, `${amount(timeLimit, 1)} s`) },
    plain(reaction),
  ];
}

function signals(plan: GeometricPlan): string {
  if (plan.handshakes.length === 0) return '';
  return table({
    caption: 'Signals from one robot to another',
    heads: [
      ...['Signal', 'Sent by', 'Awaited by', 'It says', 'Without it', 'Meanwhile it', 'Waits at most'],
      'Then',
    ],
    rows: plan.handshakes.map((one, index) => ({ cells: signalCells(plan, one, index) })),
    numbers: [6],
  });
}

function faults(safety: Safety): string {
  const rows = faultRows(safety);
  if (rows.length === 0) return '';
  return table({
    caption: 'Faults that were executed, and what becomes of the parts',
    heads: ['Fault', 'Times', 'What is done', 'Parts end'],
    rows: rows.map(({ name, times, done, ends }) => ({
      cells: [name, { html: valued(times, amount(times)) }, done, ends],
    })),
    numbers: [1],
  });
}

/** Signals between the robots, faults and what becomes of them. */
export function handshakesSection({ plan }: GeometricContext): string {
  const { safety, handshakeSet, stages } = plan;
  const zones = safety.dropZones.map((zone) => `Stage ${zone.stage}, ${dropZoneText(zone)}.`);
  const rework = stages.some((stage) => stage.rework.length > 0)
    ? html('p', {}, text(`When a tack is bad: ${reworkText(plan)}`))
    : '';
  return [
    html('p', {}, text(`Handshakes: ${handshakesText(plan)}`)),
    signals(plan),
    textList(handshakeSet.protocol.map(plain)),
    html('h3', {}, text('Faults')),
    html('p', {}, text(`Faults: ${faultsText(safety)}`)),
    faults(safety),
    rework,
    zones.length === 0 ? '' : html('h3', {}, text('Drop zones when power or air is lost (estimates)')),
    textList(zones),
  ].join('');
}
