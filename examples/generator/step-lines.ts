import type { GeometricPlan, Step } from '../../src/index.js';
import { Refusal } from './read-plan.js';
import { numbers, plainly, posed, quoted } from './words.js';

type Steps<K extends Step['do']> = Extract<Step, { readonly do: K }>;

/** A step with its number before its first line. */
export const numberedLines = (step: Step, plan: GeometricPlan): readonly string[] =>
  [...stepLines(step, plan), ...(step.resume === true ? ['  note may be taken up again here'] : [])].map(
    (line, i) => `${i === 0 ? String(step.n).padStart(5) : '     '}  ${line}`,
  );

/**
 * The lines of one step, without its number: first what is done, then, indented, what belongs to it. Throws a
 * `Refusal` for a kind of step that this generator does not know, rather than leave it out.
 */
export function stepLines(step: Step, plan: GeometricPlan): readonly string[] {
  switch (step.do) {
    case 'move':
      return moveLines(step);
    case 'change-gripper':
      return [`couple gripper ${quoted(step.to)}`];
    case 'part-present':
      return [
        `make sure that part ${quoted(step.part)} lies there`,
        '  if not: stop all robots, call a person',
      ];
    case 'grip':
      return takeLines(step);
    case 'set-down':
      return [`lay down part ${quoted(step.part)}: ${step.action}`];
    case 'locate':
      return [`push part ${quoted(step.part)} against the stops`];
    case 'seat':
      return [
        `press part ${quoted(step.part)} home, at most ${step.force} N and ${step.travel} mm`,
        `  go on when: ${step.confirm}`,
      ];
    case 'seam-search':
      return [`touch both parts of joint ${quoted(step.joint)} and shift its tacks by what is found`];
    case 'clamp':
      return [`close clamp ${quoted(step.clamp)} on part ${quoted(step.part)}`];
    case 'hold':
      return [`keep part ${quoted(step.part)} still in its place`];
    case 'proof-pull':
      return [
        `pull at part ${quoted(step.part)} with ${step.force} N`,
        '  if it moves: keep holding, stop all robots, call a person',
      ];
    case 'cool':
      return [
        `hold part ${quoted(step.part)} for ${Number((step.end - step.start).toFixed(3))} s while its tacks cool`,
      ];
    case 'accept':
      return acceptLines(step, plan);
    case 'let-go':
      return [`let go of part ${quoted(step.part)}: ${step.action}`];
    case 'tack':
      return tackLines(step, plan);
    case 'wire-check':
      return [
        `make sure that the wire is free of tack ${quoted(step.tack)}`,
        '  if not: keep the torch still, stop all robots, call a person',
      ];
    case 'earth-check':
      return ['make sure that the earth path is closed', '  if not: no arc, stop all robots, call a person'];
    case 'clean-nozzle':
      return ['clean the nozzle'];
    case 'manual':
      return byHandLines(step);
    case 'hand-over':
      return ['hand over the finished tack-up'];
    case 'turn':
      return [`turn the work table to ${step.to} deg by the shorter way, until it is still`];
    case 'enter':
      return [`now inside zone ${step.zone}`];
    case 'leave':
      return [`now outside zone ${step.zone}`];
    case 'signal':
      return [`tell ${quoted(step.handshake)}${meaning(step.handshake, plan)}`];
    case 'await':
      return waitLines(step, plan);
    default:
      return unknownStep(step);
  }
}

function moveLines(step: Steps<'move'>): readonly string[] {
  const { path, to, tool, frame, pose, speed, acceleration, place, via } = step;
  const where = via === true ? 'through' : 'to';
  const pace = path === 'joint' ? `${speed} of what each joint can` : `${speed} mm/s`;
  return [
    `${path === 'joint' ? 'swing' : 'slide'} ${where} joints ${numbers(to)}`,
    `  tool ${quoted(tool)} in frame ${frame} ${posed(pose)}`,
    `  arm ${branchWords(step.branch)}`,
    `  pace ${pace}${acceleration === undefined ? '' : `, ${acceleration} mm/s2`}`,
    `  note ${plainly(place)}`,
  ];
}

const branchWords = ({ shoulder, elbow, wrist, turns }: Steps<'move'>['branch']): string =>
  `shoulder ${shoulder}, elbow ${elbow}, wrist ${wrist}${turns === undefined ? '' : `, whole turns ${numbers(turns)}`}`;

function takeLines({ part, gripper, group, action, confirm }: Steps<'grip'>): readonly string[] {
  const pads = group === undefined ? '' : `, pads ${quoted(group)} only`;
  return [
    `take part ${quoted(part)} with gripper ${quoted(gripper)}${pads}: ${action}`,
    `  go on when: ${confirm}`,
  ];
}

/** A person at work: this program only waits, and so do all others. */
function byHandLines({ part, planned, clamp, tacks, confirm }: Steps<'manual'>): readonly string[] {
  return [
    `let a person set part ${quoted(part)}, all robots at home, stopped and empty-handed`,
    ...(clamp === undefined ? [] : [`  the person closes clamp ${quoted(clamp)}`]),
    ...tacks.map((tack) => `  the person lays tack ${quoted(tack)}`),
    `  go on when: confirmed by the ${confirm} from outside the work zone, planned after ${planned} s`,
  ];
}

/** The arc of a tack, which starts where the move before it ends. */
function tackLines(step: Steps<'tack'>, { stages }: GeometricPlan): readonly string[] {
  const { process, current, voltage, speed, before, after } = step.arc;
  const of = stages
    .flatMap(({ tacks, rework }) => [...tacks, ...rework.flatMap(({ tack }) => tack ?? [])])
    .find(({ id }) => id === step.tack);
  const seam = of === undefined ? '' : ` on seam ${quoted(of.seam)}, ${of.phase}`;
  return [
    `tack ${quoted(step.tack)}${seam}`,
    `  tool ${quoted(step.tool)} in frame ${step.frame} ${posed(step.from)}`,
    `  arc on: ${process}, ${current} A, ${voltage} V, position ${step.position}, stay ${before} s`,
    `  slide to joints ${numbers(step.to)} at ${speed} mm/s`,
    `  tool ${quoted(step.tool)} in frame ${step.frame} ${posed(step.pose)}`,
    `  stay ${after} s, arc off: ${step.length} mm laid, leg ${step.leg} mm`,
  ];
}

/** A look at a tack, and what is done when it is bad, if there is another site for it. */
function acceptLines({ tack, rework }: Steps<'accept'>, plan: GeometricPlan): readonly string[] {
  const give = 'keep holding, stop all robots, call a person';
  if (rework.length === 0) return [`judge tack ${quoted(tack)}`, `  if it is bad: ${give}`];
  return [
    `judge tack ${quoted(tack)}`,
    '  if it is bad, lay it beside:',
    ...rework.flatMap((step) => stepLines(step, plan)).map((line) => `    ${line}`),
  ];
}

/** A wait with its guard: nothing that is held is let go when the time is over. */
function waitLines({ handshake: id }: Steps<'await'>, plan: GeometricPlan): readonly string[] {
  const handshake = plan.handshakes.find((one) => one.id === id);
  if (handshake === undefined)
    throw new Refusal(`a step awaits the handshake ${quoted(id)}, which is not in the plan`);
  return [
    `wait until told ${quoted(id)}${meaning(id, plan)}`,
    `  at most ${handshake.timeLimit} s, then: ${plainly(handshake.reaction)}`,
  ];
}

function meaning(id: string, { handshakes }: GeometricPlan): string {
  const found = handshakes.find((one) => one.id === id);
  return found === undefined ? '' : ` (${plainly(found.meaning)})`;
}

function unknownStep(step: never): never {
  const { n, do: kind } = step as { readonly n: number; readonly do: string };
  throw new Refusal(
    `step ${n}: this generator does not know the step "${plainly(String(kind))}"; teach it first`,
  );
}
