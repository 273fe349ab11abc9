import type { Refusal } from '../model/verdict.js';
import { amount, counted } from './numbers.js';
import { missText, reasonText } from './reason-text.js';

/** Facts that together rule every plan out, and how many of them are proved to be needed. */
export interface ToldReasons {
  readonly reasons: readonly Refusal[];
  readonly needed: number;
}

/** How far the grips of a part got. */
function countsText({ fit, taken, brought, both }: Readonly<Record<string, number>>): string {
  return `     of ${counted(fit!, 'grip')} that ${fit === 1 ? 'fits' : 'fit'}, ${taken} can take it at the infeed, ${brought} can bring it into place, ${both} can do both`;
}

/** One numbered fact a line with its nearest miss. */
export const reasonLines = (
  reasons: readonly Refusal[],
  textOf: (reason: Refusal) => string = reasonText,
): readonly string[] =>
  reasons.flatMap((reason, i) => [
    `  ${i + 1}  ${textOf(reason)}`,
    ...(reason.fact?.kind === 'reach' && reason.counts ? [countsText(reason.counts)] : []),
    ...(reason.nearest ? [`     nearest miss: ${missText(reason.nearest)}`] : []),
  ]);

/** What is claimed of the facts of a set together. */
function claimText({ reasons, needed }: ToldReasons): string {
  const [first] = reasons;
  if (reasons.length === 1) return first!.code === 'unexplained' ? 'But:' : 'This alone rules it out:';
  if (needed === reasons.length)
    return `These ${amount(reasons.length)} facts together rule it out, and each is needed:`;
  return `These ${amount(reasons.length)} facts together rule it out; ${needed === 0 ? 'none' : amount(needed)} of them ${needed === 1 ? 'is' : 'are'} proved to be needed (budget ended):`;
}

/**
 * The answer when planning proved that there is no plan: its scope, then one numbered fact a line with its nearest miss; then
 * further sets that share no fact with it, and whether there may be more.
 */
export function impossibleText(
  scope: 'any' | 'candidates',
  set: ToldReasons,
  also: readonly ToldReasons[] = [],
  mayBeMore = false,
): string {
  const among =
    scope === 'any' ? 'proved, whatever the candidates' : 'proved, among the candidates considered';
  const further = also.flatMap((other) => [
    'Also, independent of these:',
    ...(other.reasons.length === 1 ? [] : [claimText(other)]),
    ...reasonLines(other.reasons),
  ]);
  const several = set.reasons.length > 1;
  return [
    `No plan exists (${among}). ${claimText(set)}`,
    ...reasonLines(set.reasons),
    ...further,
    ...(several && scope === 'candidates'
      ? ['Needed: were any one of them met wherever it is asked, the others would leave an order.']
      : []),
    ...(mayBeMore ? ['More may stand in the way: what else does is told once this is mended.'] : []),
    '',
  ].join('\n');
}
