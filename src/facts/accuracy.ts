import { fail, ok, type Result } from '../base/result.js';
import { has, type PartSet } from '../base/part-set.js';
import { fits, fitVerdicts, statedAccuracy, type FitVerdict, type Newcoming } from '../model/fit-up.js';
import type { PartInPlace } from '../model/fits.js';
import type { PlanAccuracy, Remedy } from '../model/plan.js';
import type { Cell } from '../model/cell.js';
import type { FaceName } from '../model/scalars.js';
import type { StationName } from '../model/stations.js';
import type { Refusal } from '../model/verdict.js';
import type { Grip } from './grips.js';

/** What the accuracy of a part's way comes to: the remedies that it needs, and the worst of each direction. */
export interface FitUp {
  readonly remedies: readonly Remedy[];
  readonly stated: readonly PlanAccuracy[];
}

/** Parts in place, and what was done to them. */
export interface InPlace {
  readonly parts: PartSet;
  readonly first: number | undefined;
  readonly located: PartSet;
  readonly seated: PartSet;
}

/** Remedies in the order in which they are tried: the fewest first, and what costs no regrip before what does. */
const TRIED: readonly (readonly Remedy[])[] = [
  [],
  ['seat'],
  ['seam-search'],
  ['seat', 'seam-search'],
  ['locate'],
  ['locate', 'seat'],
  ['locate', 'seam-search'],
  ['locate', 'seat', 'seam-search'],
];

/** Where and on which face a part lies. */
export interface Lying {
  readonly station: StationName;
  readonly face: FaceName;
}

/** How a part was taken: its face at the infeed, its grips in turn, and how it lay when the last took it. */
interface Taken {
  readonly rest: FaceName;
  readonly grips: readonly Grip[];
  readonly lies: Lying;
}

/** A remedy that the cell has, for a part that was taken so. */
function available(cell: Cell, { grips }: Taken, remedy: Remedy): boolean {
  switch (remedy) {
    case 'locate':
      return grips.length > 1;
    case 'seat':
      return grips[0]!.robot.seating !== undefined;
    case 'seam-search':
      return cell.welders.every(({ seamSearch }) => seamSearch !== undefined);
  }
}

export const partInPlace = (
  part: number,
  rest: FaceName | null,
  { first, located, seated }: InPlace,
): PartInPlace => ({
  part,
  first: part === first,
  rest,
  located: has(located, part),
  seated: has(seated, part),
  grips: 0,
});

const CODES: Readonly<Record<FitVerdict['direction'], string>> = {
  gap: 'gap-not-held',
  'in-plane': 'place-not-held',
  tilt: 'tilt-not-held',
  torch: 'seam-not-met',
};

function refusalOf(part: string, verdicts: readonly FitVerdict[]): Refusal {
  const excess = ({ total, limit }: FitVerdict): number => total - limit;
  const worst = verdicts.reduce((a, b) => (excess(b) > excess(a) + 1e-6 ? b : a));
  return {
    code: CODES[worst.direction],
    subjects: [part, worst.with],
    value: worst.total,
    limit: worst.limit,
    unit: 'mm',
  };
}

/**
 * The fewest remedies with which every direction of a newcomer keeps its limit; refused with the total and the limit
 * of the direction that is farthest off when all that the cell has are done.
 */
export function fitUpOf(newcoming: Omit<Newcoming, 'way'>, taken: Taken): Result<FitUp, Refusal> {
  const { scene, part } = newcoming;
  const judged = (remedies: readonly Remedy[]): readonly FitVerdict[] =>
    fitVerdicts(
      {
        ...newcoming,
        way: {
          ...taken,
          robot: taken.grips[0]!.robot,
          located: remedies.includes('locate') ? taken.lies : undefined,
        },
      },
      remedies,
    );
  const bare = judged([]);
  let least: readonly FitVerdict[] = bare;
  for (const remedies of TRIED) {
    if (!remedies.every((remedy) => available(scene.cell, taken, remedy))) continue;
    const cured = judged(remedies);
    if (cured.every(fits)) return ok({ remedies, stated: statedAccuracy(bare, cured, remedies) });
    least = cured;
  }
  return fail(refusalOf(scene.parts[part]!.part.id, least));
}
