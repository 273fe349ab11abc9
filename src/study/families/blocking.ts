import { shareOf } from './dials.js';
import type { AlikeGroup } from './alike.js';
import type { Random } from '../../base/random.js';
import type { Structure, StructureBlock } from './structure.js';

/** Of all parts, how many groups are drawn at most to be blocked by a part that has nothing to do with them. */
const STRAY_SHARE = 0.5;

/** A pair that no structure asks for, in the order of the parts, so that this order stays legal. */
function strayBlocks(
  structure: Structure,
  groups: readonly AlikeGroup[],
  share: number,
  random: Random,
): readonly StructureBlock[] {
  const place = new Map(structure.parts.map(({ id }, i) => [id, i]));
  const known = new Set(structure.blocks.map(({ alike, by }) => `${alike}|${by}`));
  const candidates = groups.flatMap(({ name, members }) => {
    const last = Math.max(...members.map(({ id }) => place.get(id)!));
    const later = structure.parts.slice(last + 1).filter(({ alike }) => alike !== name);
    const by = later[Math.floor(random() * later.length)];
    // A part that has others like it would no longer be like them.
    const alone =
      by !== undefined && groups.some((group) => group.name === by.alike && group.members.length === 1);
    return alone && !known.has(`${name}|${by.id}`) ? [{ alike: name, by: by.id }] : [];
  });
  return shareOf(candidates, share * STRAY_SHARE, random);
}

/**
 * The blocking that holds: a share of what the structure says, and stray pairs, half of that share of the groups. With
 * one stream, what a smaller share gives is part of what a larger one gives.
 */
export function chosenBlocks(
  structure: Structure,
  groups: readonly AlikeGroup[],
  share: number,
  randoms: { readonly sensible: Random; readonly stray: Random },
): readonly { readonly part: string; readonly by: readonly string[] }[] {
  const chosen = [
    ...shareOf(structure.blocks, share, randoms.sensible),
    ...strayBlocks(structure, groups, share, randoms.stray),
  ];
  return structure.parts.flatMap(({ id, alike }) => {
    const by = structure.parts
      .map((part) => part.id)
      .filter((other) => chosen.some((block) => block.alike === alike && block.by === other));
    return by.length === 0 ? [] : [{ part: id, by }];
  });
}
