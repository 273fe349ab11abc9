import type { Program } from '../src/algorithms/concurrent-program.js';
import { explore } from '../src/algorithms/interleavings.js';
import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { buildScene } from '../src/model/scene.js';
import { handshakesSafe } from '../src/rules/handshakes-safe.js';
import { handshakesTrue } from '../src/rules/handshakes-true.js';
import { readInputs } from '../src/session/inputs.js';
import { planSession } from '../src/session/plan.js';
import { shapedExamples } from './grip-density.js';
import { median, row, seconds } from './printing.js';

const free = (events: number): Program =>
  Array.from({ length: events }, () => ({ kind: 'do', label: 'work' }) as const);

/** Robots that never wait: as many states as there are combinations of places. */
function exploration(robots: number, events: number, repeats: number): void {
  const programs = Array.from({ length: robots }, () => free(events));
  let states = 0;
  const times = Array.from({ length: repeats }, () =>
    seconds(() => ({ states } = explore(programs, { limit: Infinity }))),
  );
  const rate = Math.round(states / median(times));
  row(
    `interleavings of ${robots} free programs of ${events} events`,
    times,
    `${states} states, ${rate} states/s`,
  );
}

/** What the two rules on handshakes need for the plan of an example, planned before. */
export function proof(
  programs: LinearPrograms,
  name: string,
  free: readonly [number, number],
  repeats: number,
): void {
  exploration(2, free[0], repeats);
  exploration(3, free[1], repeats);
  const { sources } = shapedExamples().find((one) => one.name === name)!;
  const { weldment, cell } = readInputs(sources).inputs!;
  const outcome = planSession(sources, { programs });
  if (outcome.kind !== 'planned' || outcome.plan.kind !== 'geometric' || weldment.kind !== 'geometric')
    return;
  const { plan } = outcome;
  const { settings } = plan;
  const context = {
    weldment,
    cell: cell!,
    plan,
    settings,
    programs,
    scene: buildScene(weldment, cell!, settings),
  };
  let findings = 0;
  const times = Array.from({ length: repeats }, () =>
    seconds(() => {
      findings = [handshakesSafe, handshakesTrue].flatMap((rule) => rule.judge(context)).length;
    }),
  );
  const { states } = plan.safety.witness;
  const what = `${plan.handshakes.length} handshakes, ${states} states, ${findings} findings`;
  row(`proof of ${name}, ${plan.stages.length} parts`, times, what);
}
