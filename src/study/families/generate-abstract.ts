import type { AbstractFile } from '../../model/weldment.js';
import { UNITS } from '../../model/scalars.js';
import { alikeGroups } from './alike.js';
import { chosenBlocks } from './blocking.js';
import { streamFor } from './dials.js';
import { massOf } from './mass.js';
import type { InstanceOptions } from './options.js';
import type { Family, StructureJoint } from './structure.js';
import { waysOfGroups } from './ways.js';

/** Our own choice of a tack for every so many mm of seam, one to four a side. */
const TACK_EVERY = 150;
const MOST_TACKS = 4;

/** Seconds for a tack and a tool change: the defaults of a weldment file. */
const TIMES = { tack: 4, 'tool-change': 12 } as const;

const tacksOf = ({ seam, sides }: StructureJoint): number =>
  (sides === 'both' ? 2 : 1) * Math.min(MOST_TACKS, Math.max(1, Math.round(seam / TACK_EVERY)));

/**
 * An instance without shapes: contacts, joints with their tacks, blocking, needs and ways all follow from the structure
 * of the family. It always has a legal order. Deterministic.
 */
export function generateAbstract(family: Family, options: InstanceOptions): AbstractFile {
  const structure = family.build(options.parts, streamFor(options.seed, 'structure'), 'abstract');
  const groups = alikeGroups(structure);
  const ways = waysOfGroups(groups, options);
  return {
    weldment: `${family.name}-${options.parts}-${options.seed}`,
    units: UNITS,
    parts: Object.fromEntries(
      structure.parts.map(({ id, alike, shape }) => [
        id,
        { mass: massOf(shape), ways: [...ways.get(alike)!] },
      ]),
    ),
    contacts: [
      ...structure.joints.map(({ between: [a, b] }): [string, string] => [a, b]),
      ...structure.touching.map(([a, b]): [string, string] => [a, b]),
    ],
    joints: structure.joints.map((joint) => ({
      between: [joint.between[0], joint.between[1]],
      tacks: tacksOf(joint),
    })),
    blocking: chosenBlocks(structure, groups, options.blocking, {
      sensible: streamFor(options.seed, 'blocking'),
      stray: streamFor(options.seed, 'stray blocking'),
    }).map(({ part, by }) => ({ part, by: [...by] })),
    needs: structure.needs.map(({ part, after }) => ({ part, after: [...after] })),
    times: { ...TIMES },
    first: structure.parts[0]!.id,
  };
}
