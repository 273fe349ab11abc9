import { FOUR_PHASE_PROTOCOL } from '../algorithms/four-phase-programs.js';
import type { Finding } from '../model/finding.js';
import type { GeometricPlan, Handshake } from '../model/plan.js';
import { provedProperties } from './handshakes-safe.js';
import { redundantHandshakes } from './redundant-handshakes.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { manualStages, waitingAfter, waitLimit } from './waiting.js';

const ID = 'handshakes-true';

function nameFindings({ handshakes }: GeometricPlan): Finding[] {
  const first = new Map<string, string>();
  return handshakes.flatMap(({ id, name }, i) => {
    const other = first.get(name);
    if (other === undefined) first.set(name, id);
    return other === undefined
      ? []
      : [breach(ID, `handshakes[${i}].name`, `handshakes ${other} and ${id} are both called ${name}`)];
  });
}

/** What the settings and the people at work meanwhile ask for as time limit of a handshake. */
function limitOf({ plan, settings }: RuleContext, { from, to }: Handshake): number {
  const stepsOf = (robot: string) => plan.programs.find((one) => one.robot === robot)?.steps ?? [];
  const given = stepsOf(from.robot)[from.step - 1]?.stage ?? 0;
  const before = stepsOf(to.robot).slice(0, to.step - 1);
  return waitLimit(settings.handshakes['time-limit'], manualStages(plan.stages), before, given);
}

/** Kind, line and time limit are those of the settings; it is longer while a person is at work. */
function kindFindings(context: RuleContext): Finding[] {
  const { plan, settings } = context;
  const { kind } = settings.handshakes;
  return plan.handshakes.flatMap((handshake, i) => {
    const told = (field: string, message: string): Finding =>
      breach(ID, `handshakes[${i}].${field}`, message);
    const { name, line, timeLimit } = handshake;
    const lined = line !== undefined;
    const limit = limitOf(context, handshake);
    return [
      ...(handshake.kind === kind
        ? []
        : [told('kind', `handshake ${name} is ${handshake.kind}; the settings ask for ${kind}`)]),
      ...(lined === (handshake.kind === 'four-phase')
        ? []
        : [told('line', `handshake ${name} is ${handshake.kind} and has ${lined ? 'a' : 'no'} line`)]),
      ...(timeLimit === limit
        ? []
        : [told('timeLimit', `handshake ${name} waits ${timeLimit} s; ${limit} are asked for`)]),
    ];
  });
}

/** What the robot that waits does meanwhile follows from its program. */
const waitingFindings = ({ handshakes, programs }: GeometricPlan): Finding[] =>
  handshakes.flatMap(({ name, to, waiting }, i) => {
    const program = programs.find(({ robot }) => robot === to.robot);
    if (program === undefined) return [];
    const real = waitingAfter(program.duty, program.steps.slice(0, to.step - 1)).waiting;
    if (real === waiting) return [];
    const message = `at ${name} ${to.robot} is said to wait ${waiting}; by its steps it waits ${real}`;
    return [breach(ID, `handshakes[${i}].waiting`, message)];
  });

/** The counts go down to the number of handshakes there are, and the claim fits them. */
function setFindings(plan: GeometricPlan): Finding[] {
  const { handshakes, handshakeSet: set, programs } = plan;
  const told = (field: string, message: string, value: number, limit: number): Finding =>
    breach(ID, `handshakeSet.${field}`, message, { value, limit });
  const { required, afterReduction, afterResynchronisation } = set;
  const count = handshakes.length;
  return [
    ...(afterResynchronisation === count
      ? []
      : [
          told(
            'afterResynchronisation',
            `${afterResynchronisation} handshakes are said to be left; there are ${count}`,
            afterResynchronisation,
            count,
          ),
        ]),
    ...(afterReduction >= afterResynchronisation && required >= afterReduction
      ? []
      : [
          told(
            'afterReduction',
            'handshakes become more from one count to the next',
            afterReduction,
            required,
          ),
        ]),
    ...(set.minimality === 'two-robot-least' && programs.length !== 2
      ? [
          told(
            'minimality',
            `the least number for two robots is claimed of ${programs.length} programs`,
            programs.length,
            2,
          ),
        ]
      : []),
    ...(set.minimality === 'none' ? [] : redundantFindings(plan)),
  ];
}

const redundantFindings = (plan: GeometricPlan): Finding[] =>
  redundantHandshakes(plan).map((i) => {
    const message = `handshake ${plan.handshakes[i]!.name} says nothing that the others do not`;
    return breach(ID, `handshakes[${i}]`, message);
  });

/** The protocol is told where handshakes have phases, and only properties that are proved are claimed. */
function claimFindings({ plan, cell, settings }: RuleContext): Finding[] {
  const { kind } = settings.handshakes;
  const protocol = kind === 'four-phase' ? FOUR_PHASE_PROTOCOL : [];
  const known = provedProperties(cell, kind, manualStages(plan.stages).length > 0);
  const told = plan.handshakeSet.protocol.join() === protocol.join();
  return [
    ...(told
      ? []
      : [breach(ID, 'handshakeSet.protocol', `the protocol told is not that of ${kind} handshakes`)]),
    ...plan.safety.properties.flatMap((property, i) =>
      known.includes(property)
        ? []
        : [breach(ID, `safety.properties[${i}]`, `no rule proves this: ${property}`)],
    ),
  ];
}

function judge(context: RuleContext): Finding[] {
  const { plan } = context;
  return [
    ...nameFindings(plan),
    ...kindFindings(context),
    ...waitingFindings(plan),
    ...setFindings(plan),
    ...claimFindings(context),
  ];
}

/**
 * What the plan says of its handshakes is so: names differ, kind and time limit are those of the settings, what a robot
 * does while it waits follows from its program, as many are left as are counted, none is implied by the others where
 * that is claimed, and no property is claimed that is not proved. That fewer handshakes would not do is not judged.
 */
export const handshakesTrue: Rule = {
  id: ID,
  forbids:
    'handshakes of one name, of another kind or time limit than the settings ask for, said to be needed but implied by others, or wrongly counted',
  why: 'whoever wires lines and writes programs builds on what the plan says of its handshakes',
  judge,
};
