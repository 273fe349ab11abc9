import { fail, ok, type Result } from '../base/result.js';
import { gripOfRole, inWishes } from '../facts/grip-role.js';
import type { BuildPattern, PatternStage } from '../model/build-pattern.js';
import type { Refusal } from '../model/verdict.js';
import type { Wish } from '../model/wish.js';
import type { StageWish } from '../planning/demand.js';
import type { StartStage, StartWay } from '../planning/start-way.js';
import { stagesFor, type Built } from './pattern.js';

/** No plan without it. */
const HARD = { never: false, soft: false, weight: 1 } as const;

/**
 * What a pattern asks of a plan of a weldment, as wishes that are not soft: the order, and of each part that a robot
 * brings who brings it by which grip at which place of this weldment's sizes, with how many regrips, held or not. What keeps
 * a grip from having a place there, and a part that the pattern does not build, are refusals. The work table's angle, other
 * parts that are held and the handshakes cannot be wished for; whether a plan has them is judged afterwards.
 */
export function wishesOfPattern(
  pattern: BuildPattern,
  built: Built,
): Result<readonly Wish[], readonly Refusal[]> {
  const { parts } = built.weldment;
  const stages = stagesFor(pattern, built.weldment);
  const wishes: Wish[] = [];
  const refusals: Refusal[] = parts.flatMap(({ id }) =>
    stages.some(({ part }) => part === id) ? [] : [{ code: 'part-not-in-pattern', subjects: [id] }],
  );
  stages.forEach(({ part }, i) => {
    const next = stages[i + 1];
    if (next) wishes.push({ ...HARD, before: [part, next.part] });
  });
  for (const stage of stages) {
    const asked = wishesOfStage(stage, built);
    if (asked.ok) wishes.push(...asked.value);
    else refusals.push(asked.error);
  }
  return refusals.length > 0 ? fail(refusals) : ok(wishes);
}

/** A pattern as a way to begin with: what of it the weldment has no place for is left open. */
export function wayOfPattern(pattern: BuildPattern, built: Built): StartWay {
  const stages = stagesFor(pattern, built.weldment).map((stage): StartStage => {
    const asked = wishesOfStage(stage, built);
    return { part: stage.part, angle: stage.turn, wishes: asked.ok ? asked.value : [] };
  });
  return { order: stages.map(({ part }) => part), stages };
}

/** None of a part that a person sets; whether that is so in both is a matter of the family file. */
function wishesOfStage(
  { part, robot, grip, held, regrips }: PatternStage,
  { weldment, cell }: Built,
): Result<readonly StageWish[], Refusal> {
  const own = weldment.parts.find(({ id }) => id === part)!;
  const byHand = own.manual !== undefined;
  if (byHand !== (grip === null || robot === null))
    return fail({ code: byHand ? 'pattern-by-robot' : 'pattern-by-hand', subjects: [part] });
  if (grip === null || robot === null) return ok([]);
  for (const { grip: earlier } of regrips) {
    const known = gripOfRole(own, earlier, cell);
    if (!known.ok) return known;
  }
  const last = gripOfRole(own, grip, cell);
  if (!last.ok) return last;
  return ok([
    { ...HARD, grip: part, robot, ...inWishes(last.value) },
    { ...HARD, regrips: part, most: regrips.length },
    { ...HARD, held: part, never: !held },
  ]);
}
