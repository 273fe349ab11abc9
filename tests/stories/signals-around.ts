import type { GeometricPlan, Stage, Step } from '../../src/model/plan.js';

/** The steps after the first that matches `from`, up to the next that matches `to`; undefined when either is missing. */
function between(
  steps: readonly Step[],
  from: (step: Step) => boolean,
  to: (step: Step) => boolean,
): readonly Step[] | undefined {
  const start = steps.findIndex(from);
  const end = steps.findIndex((step, i) => i > start && to(step));
  return start < 0 || end < 0 ? undefined : steps.slice(start + 1, end);
}

const handshakesIn = (steps: readonly Step[]): readonly Extract<Step, { handshake: string }>[] =>
  steps.flatMap((step) => (step.do === 'signal' || step.do === 'await' ? [step] : []));

/**
 * What is wrong with the signals around the securing tacks of a held part. Between hold and let-go the handling robot
 * sends one signal and then awaits one; the welding robot awaits the first before the first securing tack and sends
 * the second after the last, and neither exchanges any other meanwhile.
 */
export function signalsAround(plan: GeometricPlan, { part, tacks }: Stage): string[] {
  const stepsOf = (duty: string): readonly Step[] =>
    plan.programs.find((program) => program.duty === duty)?.steps ?? [];
  const held = between(
    stepsOf('handle'),
    (step) => step.do === 'hold' && step.part === part,
    (step) => step.do === 'let-go' && step.part === part,
  );
  if (!held) return [`${part} is not held and let go`];
  const around = handshakesIn(held);
  const [go, done] = around;
  if (around.length !== 2 || go?.do !== 'signal' || done?.do !== 'await')
    return [`while ${part} is held: ${around.map((step) => step.do).join(', ')}; expected signal, await`];
  return welderSide(stepsOf('weld'), part, tacks, [go.handshake, done.handshake]);
}

function welderSide(
  steps: readonly Step[],
  part: string,
  tacks: Stage['tacks'],
  [go, done]: readonly [string, string],
): string[] {
  const within = between(
    steps,
    (step) => step.do === 'await' && step.handshake === go,
    (step) => step.do === 'signal' && step.handshake === done,
  );
  if (!within) return [`the welding robot does not await ${go} and then signal ${done}`];
  const laid = within.flatMap((step) => (step.do === 'tack' ? [step.tack] : []));
  const due = tacks.flatMap(({ id, phase }) => (phase === 'securing' ? [id] : []));
  const other = handshakesIn(within);
  return [
    ...(due.length > 0 && laid.join() === due.join()
      ? []
      : [`between ${go} and ${done}: tacks ${laid.join()}; expected the securing tacks ${due.join()}`]),
    ...(other.length === 0 ? [] : [`${other.length} more handshakes around the securing tacks of ${part}`]),
  ];
}
