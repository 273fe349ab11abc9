import type { GeometricPlan, Step } from '../../src/index.js';
import { Refusal } from './read-plan.js';
import { numbers, plainly, quoted } from './words.js';

type Steps<K extends Step['do']> = Extract<Step, { readonly do: K }>;

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
    case 'grip':
      return [`take part ${quoted(step.part)} with gripper ${quoted(step.gripper)}`];
    case 'set-down':
      return [`lay down part ${quoted(step.part)}`];
    case 'locate':
      return [`push part ${quoted(step.part)} against the stops`];
    case 'seat':
      return [`press part ${quoted(step.part)} home, at most ${step.force} N`];
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
    case 'let-go':
      return [`let go of part ${quoted(step.part)}`];
    case 'tack':
      return tackLines(step, plan);
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

function moveLines({ path, to, place, via }: Steps<'move'>): readonly string[] {
  const how = path === 'joint' ? 'swing' : 'slide';
  const where = via === true ? 'through' : 'to';
  return [`${how} ${where} joints ${numbers(to)}`, `  note ${plainly(place)}`];
}

/** The arc of a tack, which starts where the move before it ends. */
function tackLines({ tack: id }: Steps<'tack'>, { stages }: GeometricPlan): readonly string[] {
  const tack = stages.flatMap(({ tacks }) => tacks).find((one) => one.id === id);
  if (tack === undefined) throw new Refusal(`no stage has the tack ${quoted(id)}`);
  const { start, end, jointsEnd } = tack.torch;
  return [
    `tack ${quoted(id)} on seam ${quoted(tack.seam)}, ${tack.phase}`,
    `  arc on at ${numbers(start.at)} turned ${numbers(start.turn)}`,
    `  slide to joints ${numbers(jointsEnd)} at ${numbers(end.at)} turned ${numbers(end.turn)}`,
    `  arc off after ${tack.length} mm, leg ${tack.leg} mm, position ${tack.position}`,
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
