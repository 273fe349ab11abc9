import { slug } from '../base/identifier.js';
import type { SignalRole } from '../model/build-pattern.js';
import type { GeometricPlan, Handshake } from '../model/plan.js';

/** What a signal says, without the part whose stage it is of. */
interface Said {
  readonly stage: number;
  readonly state: string;
}

/** The number that sets apart what has the same name, as two welding robots that both laid their tacks. */
const NUMBERED = /-\d+$/;

/**
 * The signals of each stage, in the order of the plan. One that several were merged into counts as all of them: which
 * are merged rests on how long the steps take, and so on sizes.
 */
export function signalsByStage(plan: GeometricPlan): readonly SignalRole[][] {
  const signals = plan.stages.map((): SignalRole[] => []);
  const slugs = plan.stages.map(({ part }) => slug(part, 'part'));
  for (const { name, carries, from, to } of plan.handshakes)
    for (const one of carries ?? [name]) {
      const { stage, state } = said(plan, slugs, one, from);
      signals[stage]?.push({ state, from: from.robot, to: to.robot });
    }
  return signals;
}

/** A name that begins with no part is of the stage in which it is signalled. */
function said(
  plan: GeometricPlan,
  slugs: readonly string[],
  name: string,
  { robot, step }: Handshake['from'],
): Said {
  const own = slugs
    .map((part, stage) => ({ part, stage }))
    .filter(({ part }) => name.startsWith(`${part}-`))
    .sort((a, b) => b.part.length - a.part.length)[0];
  if (own) return { stage: own.stage, state: name.slice(own.part.length + 1).replace(NUMBERED, '') };
  const steps = plan.programs.find((program) => program.robot === robot)?.steps;
  return { stage: (steps?.[step - 1]?.stage ?? 1) - 1, state: name.replace(NUMBERED, '') };
}
