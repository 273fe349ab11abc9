import { rounded, snap } from '../base/order.js';
import {
  combined,
  gapChain,
  inPlaneChain,
  tiltChain,
  torchChain,
  type Contribution,
  type Meeting,
} from '../mechanics/accuracy.js';
import {
  bringingScatter,
  cutOf,
  fitPatches,
  inPlaneLimit,
  placeScatter,
  type PartInPlace,
  type PartWay,
} from './fits.js';
import type { PlanAccuracy, Remedy } from './plan.js';
import type { Scene } from './scene.js';
import type { Settings } from './settings.js';

/** A part that is brought, how, and the parts in place that it is joined to. */
export interface Newcoming {
  readonly scene: Scene;
  readonly settings: Settings;
  readonly part: number;
  readonly way: PartWay;
  readonly others: readonly PartInPlace[];
}

/** The chain of one direction of one contact or joint, in a fixed order of all of them. */
export interface FitVerdict {
  readonly direction: PlanAccuracy['direction'];
  /** Id of the part in place. */
  readonly with: string;
  readonly chain: readonly Contribution[];
  readonly total: number;
  readonly limit: number;
}

/** Whether a direction is kept; the last bit does not decide. */
export const fits = ({ total, limit }: FitVerdict): boolean => snap(total - limit, 1e-6) <= 0;

function meetingWith({ scene, part, way }: Newcoming, other: PartInPlace): Meeting {
  return {
    own: bringingScatter(scene, part, way),
    other: { name: scene.parts[other.part]!.part.id, place: placeScatter(scene, other) },
    cuts: [cutOf(scene, part), cutOf(scene, other.part)],
  };
}

/** Every direction of every contact and joint of a newcomer; `way` says whether it was located. */
export function fitVerdicts(newcoming: Newcoming, remedies: readonly Remedy[]): readonly FitVerdict[] {
  return newcoming.others.flatMap((other) => [
    ...contactVerdicts(newcoming, other, remedies.includes('seat')),
    ...jointVerdicts(newcoming, other, remedies.includes('seam-search')),
  ]);
}

/** Gap and tilt of every patch. Seating closes what is not wider than its travel, but for what burr leaves. */
function contactVerdicts(newcoming: Newcoming, other: PartInPlace, seated: boolean): FitVerdict[] {
  const { scene, settings, part } = newcoming;
  const { combine } = settings.accuracy;
  const { seating } = newcoming.way.robot;
  const meeting = meetingWith(newcoming, other);
  return fitPatches(scene, part, other.part).flatMap(({ normal, length, room }) =>
    (
      [
        ['gap', gapChain(meeting, normal, combine)],
        ['tilt', tiltChain(meeting, normal, length, combine)],
      ] as const
    ).map(([direction, chain]): FitVerdict => {
      const open = combined(chain, combine);
      const closed = seated && seating !== undefined && open <= seating.travel;
      const left = closed ? [{ source: 'left by seating', mm: seating.leaves }] : chain;
      const total = combined(left, combine);
      return { direction, with: meeting.other.name, chain: left, total, limit: room };
    }),
  );
}

/**
 * Where the part sits, and how far the wire may miss the seam, by the welding robot that may miss it by most: any may lay
 * its tacks. A search finds the seam wherever the parts are.
 */
function jointVerdicts(newcoming: Newcoming, other: PartInPlace, searched: boolean): FitVerdict[] {
  const { scene, settings, part } = newcoming;
  const { combine } = settings.accuracy;
  const meeting = meetingWith(newcoming, other);
  const place = inPlaneChain(meeting, combine);
  const toSeams = scene.cell.welders.map(({ id, accuracy, seamSearch }) => {
    const torch: Contribution = { source: id, mm: accuracy };
    return searched && seamSearch !== undefined
      ? [{ source: 'seam search', mm: seamSearch.accuracy }, torch]
      : torchChain(meeting, torch, combine);
  });
  const toSeam = toSeams.reduce((worst, next) =>
    snap(combined(next, combine) - combined(worst, combine), 1e-6) > 0 ? next : worst,
  );
  const own = scene.parts[part]!.part.id;
  const verdict = (
    direction: FitVerdict['direction'],
    chain: readonly Contribution[],
    limit: number,
  ): FitVerdict => ({ direction, with: meeting.other.name, chain, total: combined(chain, combine), limit });
  return [
    verdict('in-plane', place, inPlaneLimit(scene, settings, own)),
    verdict('torch', toSeam, settings.accuracy['torch-to-seam']),
  ];
}

const DIRECTIONS = ['gap', 'in-plane', 'tilt', 'torch'] as const;

/** Which remedy is named for a direction, of those that are done. */
const CURES: Readonly<Record<PlanAccuracy['direction'], readonly Remedy[]>> = {
  gap: ['seat', 'locate'],
  'in-plane': ['locate'],
  tilt: ['seat', 'locate'],
  torch: ['seam-search', 'locate'],
};

const DIGITS = 4;

/**
 * For each direction the contact or joint that is worst without remedies, as a plan states it: `bare` and `cured` are
 * the verdicts of the same newcomer without and with them.
 */
export function statedAccuracy(
  bare: readonly FitVerdict[],
  cured: readonly FitVerdict[],
  remedies: readonly Remedy[],
): PlanAccuracy[] {
  return DIRECTIONS.flatMap((direction): PlanAccuracy[] => {
    const own = bare.flatMap((verdict, i) => (verdict.direction === direction ? [i] : []));
    if (own.length === 0) return [];
    const excess = (i: number): number => rounded(bare[i]!.total - bare[i]!.limit, 6);
    const worst = own.reduce((a, b) => (excess(b) > excess(a) ? b : a));
    const { with: other, chain, total, limit } = cured[worst]!;
    const needed = !fits(bare[worst]!);
    const remedy = needed ? CURES[direction].find((one) => remedies.includes(one)) : undefined;
    return [
      {
        direction,
        with: other,
        chain: chain.map(({ source, mm }) => ({ source, mm: rounded(mm, DIGITS) })),
        total: rounded(total, DIGITS),
        limit: rounded(limit, DIGITS),
        remedy: remedy ?? null,
        without: remedy === undefined ? null : rounded(bare[worst]!.total, DIGITS),
      },
    ];
  });
}
