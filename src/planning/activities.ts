import type { Activity, Step } from '../model/plan.js';

/** What a step is part of, in the words of the timeline; `again`: a second time in the work zone in one stage. */
function activityName(step: Step, inZone: boolean, again: boolean): string {
  switch (step.do) {
    case 'await':
      return 'wait';
    case 'change-gripper':
      return 'tool change';
    case 'hold':
      return 'settle';
    case 'clamp':
      return 'clamp';
    case 'cool':
      return 'cool';
    case 'proof-pull':
      return 'proof pull';
    case 'locate':
      return 'locate';
    case 'seat':
      return 'seat';
    case 'seam-search':
      return 'seam search';
    case 'let-go':
      return 'let go and retreat';
    case 'set-down':
      return 'regrip';
    case 'tack':
    case 'accept':
      return 'tack';
    case 'turn':
      return 'turn the table';
    case 'manual':
      return 'set by hand';
    case 'hand-over':
      return 'hand over';
    case 'part-present':
    case 'wire-check':
    case 'earth-check':
    case 'clean-nozzle':
    case 'grip':
    case 'move':
    case 'enter':
    case 'leave':
    case 'signal':
      return !inZone ? 'fetch' : again ? 'take hold' : 'bring';
  }
}

interface Span {
  what: string;
  stage: number;
  start: number;
  end: number;
  critical: boolean;
}

/**
 * Names of the spans of the welding robot: everything between entering and leaving the work zone is tacking; outside of
 * it the table may turn, the earth path is checked, and moves go to the cleaner of the nozzle.
 */
function weldName(step: Step, inZone: boolean): string {
  if (step.do === 'await') return 'wait';
  if (step.do === 'turn') return 'turn the table';
  if (step.do === 'earth-check') return 'check the earth path';
  return !inZone && (step.do === 'move' || step.do === 'clean-nozzle') ? 'clean the nozzle' : 'tack';
}

/**
 * The steps of one robot as activities: neighbouring steps of one stage with one name become one span; steps that
 * take no time are left out.
 */
export function activitiesOf(
  robot: string,
  duty: 'handle' | 'weld',
  steps: readonly Step[],
  critical: ReadonlySet<number>,
): Activity[] {
  const spans: Span[] = [];
  let inZone = false;
  let leaving = false;
  let again = false;
  let entered: number | undefined;
  for (const step of steps) {
    if (step.do === 'enter' && step.zone === 'work') {
      inZone = true;
      again = entered === step.stage;
      entered = step.stage;
    }
    if (step.do === 'leave' && step.zone === 'work') inZone = leaving = false;
    if (step.do === 'let-go') leaving = true;
    const what =
      duty === 'weld'
        ? weldName(step, inZone)
        : leaving
          ? 'let go and retreat'
          : activityName(step, inZone, again);
    if (step.end <= step.start) continue;
    const last = spans.at(-1);
    if (last && last.what === what && last.stage === step.stage && last.end === step.start) {
      last.end = step.end;
      last.critical ||= critical.has(step.n);
    } else
      spans.push({
        what,
        stage: step.stage,
        start: step.start,
        end: step.end,
        critical: critical.has(step.n),
      });
  }
  return spans.map((span) => ({ robot, ...span }));
}
