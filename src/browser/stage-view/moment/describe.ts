import { sideText } from '../../../report/direction-text.js';
import { amount, counted, listed, tenthsOf } from '../../../report/numbers.js';
import type { PageData, PageStage } from '../../../report/page/page-data.js';
import { placeAt } from './part-pose.js';
import { presentStage, SAME, stageBegins } from './stages.js';
import { stepAt } from './steps.js';

const seconds = (time: number): string => `${amount(time, 1)} s`;
const nameOf = (named: readonly { readonly name: string }[], index: number | null | undefined): string =>
  named[index ?? -1]?.name ?? '';

/** What a stage is about: `Stage 3 of 7: rib joins, from above`. */
export function stageTitle(data: PageData, stage: PageStage): string {
  const from = stage.approach
    ? `, from ${sideText(stage.approach.direction.map((share) => -share) as [number, number, number])}`
    : '';
  return `Stage ${stage.number} of ${data.stages.length}: ${nameOf(data.parts, stage.part)} joins${from}`;
}

/** Who holds what for a stage, and whether it does so at the moment. */
function holdText({ robots, parts }: PageData, stage: PageStage, time: number): string {
  const also = stage.alsoHeld === null ? '' : ` and ${nameOf(parts, stage.alsoHeld)}`;
  if (stage.heldBy === null || !stage.hold) return 'Nothing is held for it while it is tacked.';
  const [from, to] = stage.hold;
  const who = nameOf(robots, stage.heldBy);
  const what = `${nameOf(parts, stage.part)}${also}`;
  const span = `from ${seconds(from)} to ${seconds(to)}`;
  if (time < from - SAME) return `${who} will hold ${what} ${span}.`;
  return time > to + SAME ? `${who} held ${what} ${span}.` : `${who} holds ${what} now, ${span}.`;
}

/** How many tacks of a stage lie at the moment. */
export function tacksText({ tacks, placed }: PageStage, time: number): string {
  if (tacks.length === 0) return 'It gets no tacks.';
  const laid = tacks.filter(({ end }) => (end ?? placed) <= time + SAME).length;
  const now = tacks.find(({ start, end }) => start !== null && start <= time && time < end! - SAME);
  return `${laid} of ${counted(tacks.length, 'tack')} of this stage laid${now ? `, number ${now.order} being laid` : ''}.`;
}

/** What each robot does, one line for each. */
export const robotLines = ({ robots }: PageData, time: number): readonly string[] =>
  robots.flatMap((robot) => {
    const step = stepAt(robot, time);
    if (!step) return [];
    const over = time > step.end + SAME || (time >= step.end - SAME && step === robot.steps.at(-1));
    const what = over ? 'done' : step.what;
    return [`${robot.name}: ${what}${what.endsWith('?') ? '' : '.'}`];
  });

const aboutStage = (data: PageData, stage: PageStage, time: number): string[] =>
  stage.tacks.length === 0 && !stage.hold
    ? ['No robot holds it, and nothing is tacked in this stage.']
    : [holdText(data, stage, time), tacksText(stage, time)];

/** The moment in sentences: what somebody sees who sees the picture. */
export function describe(data: PageData, time: number): readonly string[] {
  const stage = data.stages[presentStage(stageBegins(data.stages), time)];
  const where = (wanted: string): string[] =>
    data.parts.flatMap((part) => (placeAt(part, time)?.where === wanted ? [part.name] : []));
  const inPlace = where('in-place');
  return [
    `${seconds(time)} of ${seconds(tenthsOf(data.makespan) / 10)}.${stage ? ` ${stageTitle(data, stage)}.` : ''}`,
    `In place: ${inPlace.length === 0 ? 'nothing yet' : `${listed(inPlace)} (${inPlace.length} of ${data.parts.length})`}.`,
    ...(stage ? aboutStage(data, stage, time) : []),
    ...robotLines(data, time),
  ];
}
