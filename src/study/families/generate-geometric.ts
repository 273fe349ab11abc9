import type { WeldmentFile } from '../../model/weldment.js';
import { UNITS } from '../../model/scalars.js';
import { alikeGroups } from './alike.js';
import { shareOf, streamFor } from './dials.js';
import type { InstanceOptions } from './options.js';
import type { Family, Structure, StructureShape } from './structure.js';

/** A weldment file with shapes as it is written, before the schema fills in what is left out. */
export type GeometricFile = Pick<
  WeldmentFile,
  'weldment' | 'units' | 'material' | 'needs' | 'fit-up' | 'first'
> & {
  readonly parts: Readonly<Record<string, object>>;
  readonly joints: readonly object[];
};

/** Clearance a side of a part that slides in between two others later, mm: the default of `fit-up.insertion`. */
const CLEARANCE = 0.5;

/**
 * Gap that a joint may have, mm: that of a part that is cut shorter is on either side of it, and what robots and magnets are
 * inaccurate by comes on top (our choice).
 */
const GAP = 1.5;

/** Leg of every weld, mm. */
const LEG = 4;

/** The same shape, shorter by the clearance at both ends. */
function cutShorter(shape: StructureShape): StructureShape {
  if (!('rectangular-hollow-section' in shape)) return shape;
  const section = shape['rectangular-hollow-section'];
  return { 'rectangular-hollow-section': { ...section, length: section.length - 2 * CLEARANCE } };
}

/** The groups of fitting parts that are cut to the full length: such a part cannot slide in between two others. */
function tightGroups(structure: Structure, { blocking, seed }: InstanceOptions): ReadonlySet<string> {
  const fitting = alikeGroups(structure).filter(({ members }) => members[0]!.fits === true);
  const chosen = shareOf(fitting, blocking, streamFor(seed, 'tight fits'), ({ members }) => members.length);
  return new Set(chosen.map(({ name }) => name));
}

/**
 * An instance with shapes, places and joints. Contacts, blocking and ways are left to be derived, so of the dials only
 * `blocking` has a say: the share of the parts between two others that fit tightly. Deterministic.
 */
export function generateGeometric(family: Family, options: InstanceOptions): GeometricFile {
  const structure = family.build(options.parts, streamFor(options.seed, 'structure'), 'geometric');
  const tight = tightGroups(structure, options);
  return {
    weldment: `${family.name}-${options.parts}-${options.seed}`,
    units: UNITS,
    material: 'S235',
    parts: Object.fromEntries(
      structure.parts.map(({ id, alike, shape, at, turn, fits }) => {
        const cut = fits === true && !tight.has(alike) ? cutShorter(shape) : shape;
        return [id, { ...cut, at: [...at], ...(turn && { turn: [...turn] }) }];
      }),
    ),
    'fit-up': { gap: GAP, insertion: CLEARANCE },
    joints: structure.joints.map(({ between: [a, b], type, sides, open }) => ({
      between: [a, b],
      type,
      leg: LEG,
      sides,
      ...(open && { open: [...open] }),
    })),
    needs: structure.needs.map(({ part, after }) => ({ part, after: [...after] })),
    first: structure.parts[0]!.id,
  };
}
