import { connectedSets } from '../../algorithms/connected-sets.js';
import { compareVectors } from '../../base/order.js';
import type { Facts } from '../../facts/facts.js';
import type { Promises } from './promise.js';

/** Parts of one proposed sub-assembly at most: a larger one is half of the weldment of most (our choice). */
export const LARGEST = 4;

/** Connected sets that are listed at most; enough for all of them up to some 40 parts (our choice). */
const MOST_LISTED = 5_000;

/** What proposals are made of. */
export interface ProposalGround {
  readonly facts: Facts;
  readonly promises: Promises;
  /** The part that stands first in the plan in one piece: a group that is built on it is the weldment begun. */
  readonly first: string | undefined;
}

/** Groups of parts that may be worth building apart, the most promising first. */
export interface Proposals {
  readonly groups: readonly (readonly string[])[];
  /** Connected groups of so few parts that a robot can lift, promising or not. */
  readonly liftable: number;
  /** Whether there are more than were listed. */
  readonly cut: boolean;
}

/**
 * Connected groups of two to `LARGEST` parts that robots set, of one magnetic kind, no heavier with the lightest gripper than
 * some handling robot carries. Those come first that promise most by the terms of the objective; among equals those with the
 * fewest parts that promise nothing, then those that stand on no part of the table, the small ones, and those whose robot waits longest.
 */
export function proposalsOf({ facts, promises, first }: ProposalGround): Proposals {
  const { parts, tableBearing, cell } = facts.scene;
  const names = parts.map(({ part }) => part.id);
  const robots = names.map((id, i) => id !== first && parts[i]!.part.manual === undefined);
  const magnetic = parts.map(({ part }) => part.material.magnetic);
  const most = Math.max(...cell.handlers.map(({ payload }) => payload.mass)) - lightest(facts);
  const { sets, cut } = connectedSets({
    neighbours: neighboursIn(facts),
    most: Math.min(LARGEST, parts.length - 1),
    limit: MOST_LISTED,
    allowed: (members) =>
      members.every((part) => robots[part] && magnetic[part] === magnetic[members[0]!]) &&
      members.reduce((sum, part) => sum + parts[part]!.mass, 0) <= most,
  });
  const ranked = sets
    .map((members) => {
      const own = members.map((part) => promises.get(names[part]!));
      const idle = own.filter((one) => one === undefined || one.saves.every((value) => value === 0)).length;
      return {
        members,
        saves: total(own.map((one) => one?.saves ?? [])),
        waits: own.reduce((sum, one) => sum + (one?.waits ?? 0), 0),
        rank: [idle, members.filter((part) => tableBearing[part]!.length > 0).length, members.length],
      };
    })
    .filter(({ saves, waits }) => waits > 0 || saves.some((value) => value > 0))
    .sort(
      (p, q) =>
        compareVectors(q.saves, p.saves) ||
        compareVectors(p.rank, q.rank) ||
        q.waits - p.waits ||
        compareVectors(p.members, q.members),
    );
  return {
    groups: ranked.map(({ members }) => members.map((part) => names[part]!)),
    ...{ liftable: sets.length, cut },
  };
}

const lightest = ({ scene }: Facts): number => Math.min(...scene.cell.grippers.map(({ mass }) => mass));

/** Of each part those that it is joined to, in ascending order. */
function neighboursIn({ scene, joints }: Facts): readonly (readonly number[])[] {
  return scene.parts.map((_, part) => {
    const near = joints.flatMap(({ a, b }) => (a === part ? [b] : b === part ? [a] : []));
    return [...new Set(near)].sort((p, q) => p - q);
  });
}

const total = (vectors: readonly (readonly number[])[]): readonly number[] =>
  Array.from({ length: Math.max(0, ...vectors.map((v) => v.length)) }, (_, i) =>
    vectors.reduce((sum, v) => sum + (v[i] ?? 0), 0),
  );
