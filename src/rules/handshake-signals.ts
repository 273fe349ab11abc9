import type { Finding } from '../model/finding.js';
import type { Handshake } from '../model/plan.js';
import { breach, type RuleContext } from './rule.js';

interface Use {
  readonly robot: string;
  readonly n: number;
  readonly where: string;
}

/** Every step that signals or waits, by handshake. */
function usesOf({ plan }: RuleContext, kind: 'signal' | 'await'): ReadonlyMap<string, readonly Use[]> {
  const uses = new Map<string, Use[]>();
  plan.programs.forEach(({ robot, steps }, p) =>
    steps.forEach((step, i) => {
      if (step.do !== kind) return;
      const use = { robot, n: step.n, where: `programs[${p}].steps[${i}]` };
      uses.set(step.handshake, [...(uses.get(step.handshake) ?? []), use]);
    }),
  );
  return uses;
}

function endFindings(
  rule: string,
  handshake: Handshake,
  end: 'from' | 'to',
  own: readonly Use[],
  where: string,
): Finding[] {
  const verb = end === 'from' ? 'sent' : 'awaited';
  if (own.length !== 1)
    return [
      breach(rule, where, `handshake ${handshake.id} is ${verb} ${own.length} times; it must be once`, {
        value: own.length,
        limit: 1,
      }),
    ];
  const { robot, step } = handshake[end];
  const use = own[0]!;
  if (use.robot === robot && use.n === step) return [];
  const message =
    `handshake ${handshake.id} is said to be ${verb} by ${robot} in step ${step}; ` +
    `it is by ${use.robot} in step ${use.n}`;
  return [breach(rule, `${where}.${end}`, message, { value: step, limit: use.n })];
}

/** The list of handshakes against the steps that signal and wait: each sent once, consumed once, and listed. */
export function signalFindings(rule: string, context: RuleContext): Finding[] {
  const [sent, awaited] = [usesOf(context, 'signal'), usesOf(context, 'await')];
  const listed = new Set<string>();
  const findings: Finding[] = [];
  context.plan.handshakes.forEach((handshake, i) => {
    const where = `handshakes[${i}]`;
    if (listed.has(handshake.id)) {
      findings.push(breach(rule, `${where}.id`, `handshake ${handshake.id} is listed twice`));
      return;
    }
    listed.add(handshake.id);
    findings.push(...endFindings(rule, handshake, 'from', sent.get(handshake.id) ?? [], where));
    findings.push(...endFindings(rule, handshake, 'to', awaited.get(handshake.id) ?? [], where));
  });
  for (const [id, uses] of [...sent, ...awaited])
    if (!listed.has(id)) findings.push(breach(rule, uses[0]!.where, `handshake ${id} is not in the list`));
  return findings;
}
