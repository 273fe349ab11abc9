import { minimalConflict } from '../algorithms/minimal-conflict.js';
import { blockers } from '../facts/approaches.js';
import type { Facts } from '../facts/facts.js';
import { GRIP_TESTS } from '../facts/grip-refusals.js';
import { emptySet, members, setOf, withMember } from '../base/part-set.js';
import type { Refusal } from '../model/verdict.js';
import { conditionKinds, Feasibility, type Condition } from './feasibility.js';

/** Why there is no plan. `any`: whatever the candidates; `candidates`: among those that were considered. */
export interface Impossibility {
  readonly scope: 'any' | 'candidates';
  /** Each is needed: without any one of them an order exists (for scope `any` each alone is enough). */
  readonly reasons: readonly Refusal[];
}

/** Parts that no gripper of the cell can ever carry, however it takes them. */
function absolute(facts: Facts): Refusal[] {
  const { handlers, grippers } = facts.scene.cell;
  const handler = handlers.reduce((best, next) => (next.payload.mass > best.payload.mass ? next : best));
  return facts.scene.parts.flatMap(({ part, mass }): Refusal[] => {
    if (part.manual) return [];
    const holding = grippers.filter(({ kind }) => kind !== 'magnet' || part.material.magnetic > 0);
    if (holding.length === 0)
      return [
        {
          code: 'not-magnetic',
          subjects: [part.id, part.material.name],
          value: part.material.magnetic,
          limit: 0,
        },
      ];
    const together = mass + Math.min(...holding.map((gripper) => gripper.mass));
    if (together <= handler.payload.mass) return [];
    return [
      {
        code: 'payload',
        subjects: [part.id, handler.id],
        value: together,
        limit: handler.payload.mass,
        unit: 'kg',
      },
    ];
  });
}

/** Of all ways to bring a part that the arm refused, the one that missed by least. */
function nearestReach(facts: Facts, part: number): Refusal | undefined {
  const misses = facts.everyAngle.flatMap((at) =>
    at.approaches(part).flatMap((approach) =>
      at.usableGrips(part).flatMap((grip) => {
        const placed = at.place(part, grip, approach);
        return placed.ok ? [] : [placed.error];
      }),
    ),
  );
  const miss = ({ value, limit }: Refusal): number => Math.abs((value ?? Infinity) - (limit ?? 0));
  return misses.reduce<Refusal | undefined>(
    (best, next) => (best === undefined || miss(next) < miss(best) ? next : best),
    undefined,
  );
}

/** A condition of a part as a refusal that names what stands in its way and what came nearest. */
function refusalOf(facts: Facts, feasibility: Feasibility, { kind, part }: Condition): Refusal {
  const { parts } = facts.scene;
  const id = parts[part]!.part.id;
  if (kind === 'approach') return approachRefusal(facts, part);
  if (kind === 'turning') return turningRefusal(facts, part);
  const nearest =
    kind === 'handling'
      ? nearestReach(facts, part)
      : kind === 'securing'
        ? feasibility.nearestFall(part)
        : kind === 'accuracy'
          ? feasibility.nearestMisfit(part)
          : undefined;
  if (kind !== 'handling') return { code: `no-${kind}`, subjects: [id], ...(nearest && { nearest }) };
  return handlingRefusal(facts, part, nearest);
}

/** The part, the face it lies on at the infeed, and the parts that the gripper would meet, with how far its grips got. */
function handlingRefusal(facts: Facts, part: number, nearest: Refusal | undefined): Refusal {
  const { parts } = facts.scene;
  const met = new Set(
    facts.everyAngle.flatMap((at) =>
      at.approaches(part).flatMap((approach) =>
        at
          .usableGrips(part)
          .filter((grip) => at.place(part, grip, approach).ok)
          .flatMap((grip) => members(at.gripperHits(part, grip, approach).parts)),
      ),
    ),
  );
  const names = [...met].sort((p, q) => p - q).map((i) => parts[i]!.part.id);
  const closest = nearest ?? nearestFit(facts, part);
  const lies = facts.spots(part)[0]?.face ?? 'no stable face';
  return {
    code: 'no-handling',
    subjects: [parts[part]!.part.id, lies, ...names],
    counts: gripCounts(facts, part),
    ...(closest && { nearest: closest }),
  };
}

/** Of the grips that do not fit, one that came farthest through its tests, and nearest in the last. */
function nearestFit(facts: Facts, part: number): Refusal | undefined {
  const far = ({ code }: Refusal): number => (GRIP_TESTS as readonly string[]).indexOf(code);
  const excess = ({ value, limit }: Refusal): number => Math.abs((value ?? Infinity) - (limit ?? 0));
  return facts
    .grips(part)
    .flatMap(({ refusal }) => (refusal ? [refusal] : []))
    .reduce<Refusal | undefined>(
      (best, next) =>
        best === undefined ||
        far(next) > far(best) ||
        (far(next) === far(best) && excess(next) < excess(best))
          ? next
          : best,
      undefined,
    );
}

/** How many of a part's grips fit, can take it from the infeed, can bring it along some approach, and can do both. */
function gripCounts(facts: Facts, part: number): Readonly<Record<string, number>> {
  const grips = facts.usableGrips(part);
  const infeed = facts.spots(part)[0];
  const takes = grips.filter((grip) => infeed !== undefined && facts.take(part, grip, infeed).ok);
  const brings = grips.filter((grip) =>
    facts.everyAngle.some((at) => at.approaches(part).some((approach) => at.place(part, grip, approach).ok)),
  );
  const both = takes.filter((grip) => brings.includes(grip));
  return { fit: grips.length, taken: takes.length, brought: brings.length, both: both.length };
}

function approachRefusal(facts: Facts, part: number): Refusal {
  const { parts } = facts.scene;
  const all = setOf(
    parts.length,
    parts.map((_, i) => i),
  );
  const tried = facts.everyAngle.flatMap((at) => at.approaches(part));
  const named = new Set(tried.flatMap((approach) => blockers(approach, all)));
  return {
    code: 'no-approach',
    subjects: [parts[part]!.part.id, ...[...named].map((i) => parts[i]!.part.id)],
    value: tried.length,
    unit: 'tried',
  };
}

/** What is in the way of the table, or of the first other part in the way of something, as it turns before a part comes. */
function turningRefusal(facts: Facts, part: number): Refusal {
  const { parts } = facts.scene;
  const nothing = emptySet(parts.length);
  const alone = parts.flatMap((_, i) =>
    i === part ? [] : (facts.turnBlocked(withMember(nothing, i)) ?? []),
  );
  const nearest = facts.turnBlocked(nothing) ?? alone[0];
  return { code: 'no-turning', subjects: [parts[part]!.part.id], ...(nearest && { nearest }) };
}

/** The least set of conditions that rules every order out, found by deletion, each tested by solving again. */
export function explainImpossible(facts: Facts): Impossibility {
  const always = absolute(facts);
  if (always.length > 0) return { scope: 'any', reasons: always };
  const feasibility = new Feasibility(facts);
  const conditions = conditionKinds(facts.scene.cell)
    .toReversed()
    .flatMap((kind) => facts.scene.parts.map((_, part): Condition => ({ kind, part })));
  const conflict = minimalConflict(conditions, (some) => feasibility.impossible(some));
  if (conflict === undefined)
    return {
      scope: 'candidates',
      reasons: [{ code: 'unexplained', subjects: [facts.scene.weldment.name] }],
    };
  return {
    scope: 'candidates',
    reasons: conflict.map((condition) => refusalOf(facts, feasibility, condition)),
  };
}
