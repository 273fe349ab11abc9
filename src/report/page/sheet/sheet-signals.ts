import type { GeometricPlan, Stage } from '../../../model/plan.js';
import { plain } from '../../plain.js';
import { html, table, text } from '../html.js';

/** The signals that are sent or awaited in a stage. */
export function sheetSignals({ handshakes, programs }: GeometricPlan, { number }: Stage): string {
  const stageOf = (end: { readonly robot: string; readonly step: number }): number | undefined =>
    programs.find(({ robot }) => robot === end.robot)?.steps.find(({ n }) => n === end.step)?.stage;
  const own = handshakes.filter(({ from, to }) => stageOf(from) === number || stageOf(to) === number);
  if (own.length === 0) return html('p', {}, text('No signal between robots belongs to this stage.'));
  return table({
    caption: `Signals of stage ${number}, with the steps of the robots`,
    heads: ['Signal', 'Sent by, awaited by', 'It says'],
    rows: own.map(({ name, from, to, meaning }) => ({
      cells: [
        plain(name),
        `${plain(from.robot)} ${from.step}, ${plain(to.robot)} ${to.step}`,
        plain(meaning),
      ],
    })),
  });
}
