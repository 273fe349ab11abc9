import { gripOfRole, inWishes } from '../facts/grip-role.js';
import type { BuildPattern, GripRole, PatternStage, SignalRole } from '../model/build-pattern.js';
import type { Limit } from '../model/family-result.js';
import type { GeometricPlan, PlanGrip, Stage } from '../model/plan.js';
import { isGrip } from '../rules/wish-kept.js';
import { gripText } from '../report/wish-text.js';
import { listed } from '../report/numbers.js';
import { plain } from '../report/plain.js';
import { sameWay, stagesFor, type Built } from './pattern.js';
import { signalsByStage } from './signals.js';

/**
 * Whether an own plan is one by another pattern too, as `otherThan` would say of it: the stages of the parts that it has are
 * the same, but for signals that go with completing tacks where a stage of either has none.
 */
export function isBuiltBy(
  { plan, pattern: own }: { readonly plan: GeometricPlan; readonly pattern: BuildPattern },
  pattern: BuildPattern,
): boolean {
  const parts = new Set(own.stages.map(({ part }) => part));
  const stages = pattern.stages.filter(({ part }) => parts.has(part));
  const silent = (all: readonly PatternStage[]): BuildPattern => ({
    ...pattern,
    stages: all.map((stage) => ({ ...stage, handshakes: [] })),
  });
  if (!sameWay(silent(own.stages), silent(stages))) return false;
  return own.stages.every(({ part, handshakes }, i) => {
    const tacks = plan.stages.find((stage) => stage.part === part)?.tacks ?? [];
    const completing = tacks.some(({ phase }) => phase === 'completing');
    const last = i + 1 === stages.length;
    return otherSignals(handshakes, stages[i]!.handshakes, { completing, last }) === undefined;
  });
}

/** What is signalled because tacks are laid after a part is let go: also, after the last part, that a welding robot is done. */
const isOfCompleting = (state: string): boolean =>
  state === 'away' || state === 'all-tacked' || state.endsWith('-done');

/**
 * In what a plan is built otherwise than a pattern says; undefined where it is not. Stages of parts that the weldment lacks
 * do not count, nor do numbers and places of tacks; a grip is compared by the place that its role has on this part.
 */
export function otherThan(plan: GeometricPlan, pattern: BuildPattern, built: Built): Limit | undefined {
  const asked = stagesFor(pattern, built.weldment);
  const told = (part: string, text: string): Limit => ({
    ...{ code: 'other-pattern', subjects: [part] },
    text: `there is a plan, but one that builds otherwise: ${plain(part)} ${text}`,
  });
  const signals = signalsByStage(plan);
  for (const [i, stage] of plan.stages.entries()) {
    const wanted = asked[i];
    if (wanted?.part !== stage.part)
      return told(
        stage.part,
        wanted ? `comes where the pattern has ${plain(wanted.part)}` : 'is in no stage of it',
      );
    const text =
      otherHandling(stage, wanted, built) ??
      otherSignals(signals[i]!, wanted.handshakes, {
        completing: stage.tacks.some(({ phase }) => phase === 'completing'),
        last: i + 1 === plan.stages.length,
      });
    if (text !== undefined) return told(stage.part, text);
  }
  return undefined;
}

function otherHandling(stage: Stage, wanted: PatternStage, built: Built): string | undefined {
  const { robot, turn = 0, handling, held, alsoHeld } = stage;
  if (robot !== wanted.robot) return `is brought by ${named(robot)}, not by ${named(wanted.robot)}`;
  if (turn !== wanted.turn) return `comes with the work table at ${turn} degrees, not at ${wanted.turn}`;
  const regrips = handling.slice(0, -1);
  if (regrips.length !== wanted.regrips.length)
    return `is regripped ${regrips.length} times, not ${wanted.regrips.length}`;
  for (const [i, { grip, put }] of regrips.entries()) {
    const { grip: role, to, rest } = wanted.regrips[i]!;
    if (put.to !== to || put.rest !== rest)
      return `is put down on ${put.rest ?? 'no face'} at the ${put.to} station, not on ${rest} at the ${to} station`;
    if (!plays(role, grip, stage.part, built)) return `is regripped by another grip: ${gripText(grip)}`;
  }
  const last = handling.at(-1)?.grip;
  if (last !== undefined && wanted.grip !== null && !plays(wanted.grip, last, stage.part, built))
    return `is put in place by another grip: ${gripText(last)}`;
  if ((held !== null) !== wanted.held)
    return `is ${held === null ? 'not ' : ''}held while its securing tacks are laid`;
  if ((alsoHeld?.part ?? null) !== wanted.alsoHeld)
    return `is tacked with ${named(alsoHeld?.part ?? null, 'nothing')} held too, not ${named(wanted.alsoHeld, 'nothing')}`;
  return undefined;
}

const named = (name: string | null, none = 'a person'): string => (name === null ? none : plain(name));

/** Whether a grip is the one that has a role on a part. */
function plays(role: GripRole, grip: PlanGrip, part: string, { weldment, cell }: Built): boolean {
  const own = weldment.parts.find(({ id }) => id === part);
  const wanted = own && gripOfRole(own, role, cell);
  return wanted?.ok === true && isGrip(inWishes(wanted.value), inWishes(grip));
}

/**
 * What is signalled otherwise. A stage without completing tacks, here or where the pattern comes from, may lack what goes
 * with them, and after the last part nobody waits for its tacks.
 */
function otherSignals(
  given: readonly SignalRole[],
  wanted: readonly SignalRole[],
  { completing, last }: { readonly completing: boolean; readonly last: boolean },
): string | undefined {
  const had = wanted.some(({ state }) => isOfCompleting(state));
  const isFree = (state: string): boolean =>
    completing && had ? last && state === 'all-tacked' : isOfCompleting(state);
  const told = (all: readonly SignalRole[]): readonly string[] =>
    all
      .filter(({ state }) => !isFree(state))
      .map(({ state, from, to }) => `${plain(state)} (${plain(from)} to ${plain(to)})`);
  const [here, there] = [told(given), told(wanted)];
  const more = beyond(here, there);
  const fewer = beyond(there, here);
  const texts = [
    ...(more.length > 0 ? [`signals ${listed(more)} too`] : []),
    ...(fewer.length > 0 ? [`does not signal ${listed(fewer)}`] : []),
  ];
  return texts.length === 0 ? undefined : texts.join(' and ');
}

/** What one list has more often than another. */
function beyond(all: readonly string[], others: readonly string[]): readonly string[] {
  const left = [...others];
  return all.filter((one) => {
    const at = left.indexOf(one);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}
