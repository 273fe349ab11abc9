import type { GeometricPlan, PlanReserve } from '../model/plan.js';
import { reserveText } from './numbers.js';
import { plain } from './plain.js';
import { paragraph } from './text-table.js';

/** Reserves are capped at this factor. */
export const RESERVE_CAP = 10;

/** When a reserve counts, in words. */
export const RESERVE_STATES: Readonly<Record<PlanReserve['state'], string>> = {
  arriving: 'while it comes',
  standing: 'before it is held',
  held: 'while held',
  'power-lost': 'when power is lost',
  tacking: 'while tacked',
  'one-let-go': 'once one of two is let go',
  'let-go': 'once let go',
  'one-tack-lost': 'once let go',
  complete: 'with all tacks',
  turning: 'while the table turns',
  'lifted-out': 'at the end',
};

/** The reserve that is nearest to what is required, as a ratio; the first of equals. */
export const weakestReserve = <T extends { readonly reserve: number; readonly required: number }>(
  all: readonly T[],
): T | undefined =>
  all.reduce<T | undefined>(
    (least, next) =>
      least === undefined || next.reserve / next.required < least.reserve / least.required ? next : least,
    undefined,
  );

/** A reserve against the one that is required: `1.83 (needs 1.5)`. */
export const againstText = (reserve: number, required: number): string =>
  `${reserveText(reserve)} (needs ${reserveText(required)}${reserve < required ? ', TOO LOW' : ''})`;

/** The weakest point of a stage: its reserve against the required one, for which load and when, what gives way. */
export function weakestText(reserves: readonly PlanReserve[]): string {
  const weakest = weakestReserve(reserves);
  if (weakest === undefined) return 'not judged';
  const { state, case: load, reserve, required, weakest: element } = weakest;
  if (reserve >= RESERVE_CAP) return `every reserve ${RESERVE_CAP} or more`;
  const gives = element === '' ? '' : `: ${plain(element)}`;
  return `${againstText(reserve, required)} ${plain(load)} ${RESERVE_STATES[state]}${gives}`;
}

/** The reserves of a whole plan that are nearest to what is required: in place, and on the way there. */
export function leastReserveLines({ stages }: Pick<GeometricPlan, 'stages'>): string[] {
  const inPlace = weakestReserve(
    stages.flatMap(({ number, reserves }) => reserves.map((one) => ({ ...one, number }))),
  );
  const carried = weakestReserve(
    stages.flatMap(({ number, part, handling }) =>
      handling.map((one) => ({ ...one.carried, number, part, gripper: one.grip.gripper })),
    ),
  );
  const told = [
    ...(inPlace ? [`stage ${inPlace.number}, ${weakestText([inPlace])}`] : []),
    ...(carried && carried.reserve < RESERVE_CAP
      ? [
          `while carried: stage ${carried.number}, ${againstText(carried.reserve, carried.required)} ` +
            `${plain(carried.case)}: ${plain(carried.part)} on ${plain(carried.gripper)}`,
        ]
      : []),
  ];
  return told.length === 0 ? [] : ['', 'Least reserves:', ...told.flatMap((text) => paragraph('  ', text))];
}
