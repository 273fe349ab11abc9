import type { PlanReserve } from '../model/plan.js';
import { plain } from './plain.js';
import { reserveText } from './numbers.js';

/** Reserves are capped at this factor. */
const CAP = 10;

const STATES: Readonly<Record<PlanReserve['state'], string>> = {
  arriving: 'while it comes',
  standing: 'before it is held',
  held: 'while held',
  'power-lost': 'when power is lost',
  tacking: 'while tacked',
  'one-let-go': 'once one of two is let go',
  'let-go': 'once let go',
  'one-tack-lost': 'once let go',
  complete: 'with all tacks',
  'lifted-out': 'at the end',
};

/** The reserve that is nearest to what is required, as a ratio; the first of equals. */
export const weakestReserve = (reserves: readonly PlanReserve[]): PlanReserve | undefined =>
  reserves.reduce<PlanReserve | undefined>(
    (least, next) =>
      least === undefined || next.reserve / next.required < least.reserve / least.required ? next : least,
    undefined,
  );

/** The weakest point of a stage: its reserve against the required one, for which load and when, what gives way. */
export function weakestText(reserves: readonly PlanReserve[]): string {
  const weakest = weakestReserve(reserves);
  if (weakest === undefined) return 'not judged';
  const { state, case: load, reserve, required, weakest: element } = weakest;
  if (reserve >= CAP) return `every reserve ${CAP} or more`;
  const short = reserve < required ? ', TOO LOW' : '';
  const gives = element === '' ? '' : `: ${plain(element)}`;
  const numbers = `${reserveText(reserve)} (needs ${reserveText(required)}${short})`;
  return `${numbers} ${plain(load)} ${STATES[state]}${gives}`;
}
