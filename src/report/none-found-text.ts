import type { DeepestParts } from '../model/deepest-parts.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { termText } from './claim-text.js';
import { counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { missText, reasonText } from './reason-text.js';

/** What is known when no plan was found and nothing was proved. */
export interface NoneFound {
  readonly states: number;
  /** Whole orders that fell. */
  readonly refused: number;
  readonly reasons: readonly Refusal[];
  readonly exhausted: boolean;
  readonly waiting?: number | undefined;
  readonly bound: readonly { readonly term: ObjectiveTerm; readonly value: number }[];
  readonly deepest?: DeepestParts | undefined;
}

/** Reasons shown at most: the most frequent come first. */
const MOST_REASONS = 5;
/** Parts shown at most that were left out. */
const MOST_PARTS = 8;

/** What may help against a refusal of a whole order. */
const REMEDIES: Readonly<Record<string, string>> = {
  'gap-opens':
    'a seam that opens before it is tacked is helped by a wider `fit-up: gap`, by a smaller leg or fewer tacks of the joints tacked before it, or by `needs` that let its part come earlier',
  'assembly-gives-way':
    'parts that give way are helped by a stronger clamp of the first part, by grips that hold them until they are tacked, or by more or longer tacks',
  'arms-meet': 'arms that meet are helped by more room between the robots',
};

/** What may help, which was not tried. */
export const remedyLines = (reasons: readonly Refusal[]): readonly string[] => {
  const shown = new Set(reasons.map(({ code }) => REMEDIES[code]));
  return [...shown].flatMap((remedy) => (remedy === undefined ? [] : [`Not tried: ${remedy}.`]));
};

export const fallenLines = (reasons: readonly Refusal[]): readonly string[] =>
  reasons.slice(0, MOST_REASONS).map((reason) => `  ${missText(reason)}`);

/** What no plan costs less than, and how many states still waited. */
function openText({ waiting, bound }: NoneFound): string {
  const open = waiting === undefined ? [] : [`${counted(waiting, 'state')} still open`];
  const finite = bound.filter(({ value }) => Number.isFinite(value));
  const least = finite.map(({ term, value }) => termText(term, value));
  const bounded = least.length === 0 ? [] : [`no plan takes less than ${listed(least)}`];
  const all = [...open, ...bounded];
  const said = all.join('; ');
  return said === '' ? '' : `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
}

/** How far the search got, and what stood against the parts that it left out there. */
export function deepestLines({ deepest }: Pick<NoneFound, 'deepest'>): readonly string[] {
  if (deepest === undefined || deepest.left.length === 0) return [];
  const { inPlace, left } = deepest;
  const place =
    inPlace.length === 0
      ? 'It never had a part in place'
      : `At most it had ${listed(inPlace.map(plain))} in place`;
  const rows = left
    .slice(0, MOST_PARTS)
    .flatMap(({ part, reasons }) =>
      reasons.length === 0
        ? [`  ${plain(part)}: could still come`]
        : reasons
            .slice(0, MOST_REASONS)
            .flatMap((reason) => [
              `  ${plain(part)}: ${reasonText(reason)}`,
              ...(reason.nearest ? [`     nearest miss: ${missText(reason.nearest)}`] : []),
            ]),
    );
  return [`${place}; what stood against the others then:`, ...rows];
}

/** The answer when nothing was found and nothing was proved. */
export function noneFoundText(found: NoneFound): string {
  const { states, refused, reasons, exhausted } = found;
  const looked = `${counted(states, 'state')} looked at`;
  const fell = `${counted(refused, 'whole order')} fell when the assembly was judged as a whole`;
  if (exhausted)
    return [
      `No plan found (${looked}): every order of parts was tried, and ${fell}:`,
      ...fallenLines(reasons),
      'This is no proof that none exists: of each order only the grips and tacks that came first were judged as a whole.',
      ...remedyLines(reasons),
      '',
    ].join('\n');
  return [
    `No plan found within the budget (${looked}). This is no proof that none exists:`,
    'give more with --steps or --seconds.',
    ...[openText(found)].filter((line) => line !== ''),
    ...(refused > 0 ? [`So far ${fell}:`, ...fallenLines(reasons), ...remedyLines(reasons)] : []),
    ...deepestLines(found),
    '',
  ].join('\n');
}
