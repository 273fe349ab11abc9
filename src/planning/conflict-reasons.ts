import { emptySet, has, members, withMember } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { wishesOf } from '../model/wish.js';
import type { ReasonFact } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import type { ConflictFact } from './conflict-facts.js';
import { nearestCapacity, nearestReach, nearestRest, nearestRoom, nearestWay } from './conflict-misses.js';
import type { ConflictOracle } from './conflict-oracle.js';
import { wishReason } from '../rules/wish-reason.js';

/** A fact as the reason that the user reads: its code, whom it names, and its nearest miss. */
export function reasonOf(facts: Facts, oracle: ConflictOracle, fact: ConflictFact): Refusal {
  return { fact: named(fact), ...told(facts, oracle, fact) };
}

/** A fact without what only the search for it needs. */
const named = (fact: ConflictFact): ReasonFact =>
  Object.fromEntries(
    Object.entries(fact).filter(([name]) => !['of', 'beside', 'key'].includes(name)),
  ) as unknown as ReasonFact;

function told(facts: Facts, oracle: ConflictOracle, fact: ConflictFact): Refusal {
  const { kind, of, part, other } = fact;
  const { joins } = oracle;
  switch (kind) {
    case 'needs':
    case 'blocking':
      return { code: kind, subjects: [part, other!] };
    case 'first':
      return { code: 'first', subjects: [part] };
    case 'wish':
      return wishReason(wishesOf(facts.scene.weldment, facts.settings)[fact.wish!]!, fact.wish!);
    case 'contact': {
      const beside = members(joins.order.footings(of)).map((i) => facts.scene.parts[i]!.part.id);
      return { code: 'no-contact', subjects: [part, ...beside] };
    }
    case 'approach':
      return approachReason(facts, fact);
    case 'grips': {
      const given = facts.scene.parts[of]!.part.grips!.map(({ gripper }) => gripper);
      return { code: 'no-handling', subjects: [part, ...new Set(given)] };
    }
    case 'rest':
      return withNearest({ code: 'no-handling', subjects: [part] }, nearestRest(facts, fact));
    case 'capacity':
      return withNearest(
        { code: 'no-handling', subjects: [part, fact.gripper!] },
        nearestCapacity(facts, fact),
      );
    case 'reach':
      return withNearest(
        { code: 'no-handling', subjects: [part, fact.robot!], counts: gripCounts(facts, fact) },
        nearestReach(facts, fact),
      );
    case 'arm-room':
      return { code: 'no-handling', subjects: [part, fact.robot!, ...armMeets(facts, fact)] };
    case 'gripper-room':
      return withNearest(
        { code: 'no-handling', subjects: [part, fact.gripper!, other!] },
        nearestRoom(facts, fact),
      );
    case 'accuracy':
      return withNearest({ code: 'no-accuracy', subjects: [part, other!] }, joins.nearestMisfit(fact));
    case 'torch':
      return withNearest(
        { code: 'no-securing', subjects: [part, fact.seam!, other!] },
        joins.securing.nearestOf(fact),
      );
    case 'hold':
    case 'reserve':
      return withNearest({ code: 'no-securing', subjects: [part] }, joins.securing.nearestOf(fact));
    case 'turning':
      return turningReason(facts, fact);
  }
}

const withNearest = (reason: Refusal, nearest: Refusal | undefined): Refusal =>
  nearest === undefined ? reason : { ...reason, nearest };

/** How many of its straight ways are blocked by what the fact names, of those that there are. */
function approachReason(facts: Facts, fact: ConflictFact): Refusal {
  const { index } = facts.scene;
  const { of, part, other, also } = fact;
  const all = facts.everyAngle.flatMap((at) => at.approaches(of));
  const [one, two] = [other, also].map((id) => (id === undefined ? undefined : index.get(id)));
  const blocked = all.filter(({ fixedHit, hits, squeezes }) =>
    one === undefined
      ? fixedHit !== undefined
      : two === undefined
        ? has(hits, one)
        : squeezes.some(([p, q]) => (p === one && q === two) || (p === two && q === one)),
  );
  return withNearest(
    {
      code: 'no-approach',
      subjects: [part, other!, ...(also === undefined ? [] : [also])],
      counts: { ways: all.length, blocked: blocked.length },
    },
    nearestWay(facts, fact),
  );
}

/** How many of a part's grips fit an arm, can take it from the infeed, can bring it along some approach, and can do both. */
function gripCounts(facts: Facts, { of, robot }: ConflictFact): Readonly<Record<string, number>> {
  const grips = facts.usableGrips(of).filter((grip) => grip.robot.id === robot);
  const infeed = facts.spots(of)[0];
  const takes = grips.filter((grip) => infeed !== undefined && facts.take(of, grip, infeed).ok);
  const brings = grips.filter((grip) =>
    facts.everyAngle.some((at) => at.approaches(of).some((approach) => at.place(of, grip, approach).ok)),
  );
  const both = takes.filter((grip) => brings.includes(grip));
  return { fit: grips.length, taken: takes.length, brought: brings.length, both: both.length };
}

/** Parts that the links of an arm meet as it brings a part. */
function armMeets(facts: Facts, { of, robot }: ConflictFact): readonly string[] {
  const met = new Set(
    facts.everyAngle.flatMap((at) =>
      at.approaches(of).flatMap((approach) =>
        at
          .usableGrips(of)
          .filter((grip) => grip.robot.id === robot)
          .flatMap((grip) => {
            const placed = at.place(of, grip, approach);
            return placed.ok ? [...placed.value].flatMap(({ hits }) => members(hits)) : [];
          }),
      ),
    ),
  );
  return [...met].sort((p, q) => p - q).map((i) => facts.scene.parts[i]!.part.id);
}

/** What is in the way of the table, or of the first other part in the way of something, as it turns before a part comes. */
function turningReason(facts: Facts, { of, part }: ConflictFact): Refusal {
  const { parts } = facts.scene;
  const nothing = emptySet(parts.length);
  const alone = parts.flatMap((_, i) => (i === of ? [] : (facts.turnBlocked(withMember(nothing, i)) ?? [])));
  return withNearest({ code: 'no-turning', subjects: [part] }, facts.turnBlocked(nothing) ?? alone[0]);
}
