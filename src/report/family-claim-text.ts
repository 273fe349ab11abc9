import type {
  FamilyCovering,
  Limit,
  MatrixField,
  ParameterValue,
  VariantResult,
} from '../model/family-result.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { termText } from './claim-text.js';
import { amount, counted, duration, listed } from './numbers.js';
import { plain } from './plain.js';

/** Names shown at most in a sentence. */
const MOST_NAMES = 12;

/** Names from files in a sentence, the first of them where there are many. */
export const someNames = (names: readonly string[]): string =>
  names.length <= MOST_NAMES
    ? listed(names.map(plain))
    : `${names.slice(0, MOST_NAMES).map(plain).join(', ')} and ${names.length - MOST_NAMES} more`;

/** Why fewer patterns do not do. */
function fewerText({ by, apart, examined, bound }: FamilyCovering['proof']): string {
  if (by === 'budget') return `Whether fewer of them do is not known; at least ${amount(bound)} are needed.`;
  if (by === 'exhausted')
    return `Fewer of them do not: every smaller choice was ruled out (${counted(examined, 'choice')} looked at).`;
  if (apart.length < 2) return '';
  const none = apart.length === 2 ? 'have none in common' : 'have none in common, no two of them';
  return `Fewer of them do not: ${someNames(apart)} ${none}.`;
}

/** How many patterns build how many variants, and what of that is proved; always among the patterns that were found. */
export function coveringText({ chosen, uncovered, proof }: FamilyCovering): string {
  const built = chosen.reduce((sum, { variants }) => sum + variants.length, 0);
  const all = counted(built + uncovered.length, 'variant');
  if (chosen.length === 0) return `Nothing builds any of ${all}.`;
  const every = built === 1 ? 'the one variant' : `all ${all}`;
  const which = uncovered.length === 0 ? every : `${amount(built)} of ${all}`;
  if (proof.patterns === 1) return `The one pattern that was found builds ${which}.`;
  const builds = chosen.length === 1 ? 'builds' : 'build';
  const cost = proof.costProved
    ? 'No other choice of as few of them costs less in all.'
    : 'Whether another choice of as few of them costs less in all is not known.';
  const found = `${amount(chosen.length)} of ${amount(proof.patterns)} patterns that were found ${builds} ${which}.`;
  return [found, fewerText(proof), cost, openText(proof)].filter((text) => text !== '').join(' ');
}

type Searched = Pick<VariantResult, 'name' | 'searched' | 'leastSaving'>;

/** For which variants nothing quicker was looked for, and for which nothing that is hardly quicker; empty where all was for all. */
export function unsearchedTexts(variants: readonly Searched[]): readonly string[] {
  const which = (wanted: readonly Searched[]): string =>
    wanted.length === variants.length ? 'any of them' : someNames(wanted.map(({ name }) => name));
  const not = variants.filter(({ searched }) => !searched);
  const hardly = variants.filter(({ searched, leastSaving }) => searched && leastSaving > 0);
  const least = Math.max(...hardly.map(({ leastSaving }) => leastSaving));
  return [
    ...(not.length === 0
      ? []
      : [
          `Whether another plan is quicker was not looked for, or not to the end, with ${which(not)}: a plan was enough where nothing before the time could be better.`,
        ]),
    ...(hardly.length === 0
      ? []
      : [
          `Whether another plan is quicker by less than ${amount(least, 1)} s was not looked for with ${which(hardly)}, which the pattern of another variant builds.`,
        ]),
  ];
}

/** What the proof rests on where some of what does not fit was only not found. */
const openText = ({ open, by }: FamilyCovering['proof']): string =>
  open === 0 || by === 'budget'
    ? ''
    : `That is so as far as plans were found: ${counted(open, 'time')} a pattern counts as not building a variant though such a plan is not ruled out.`;

/** A difference of a term in words: `+1 regrip`, `-2.5 s`. */
function differenceText(term: ObjectiveTerm, value: number): string {
  const sign = value < 0 ? '-' : '+';
  const size = Math.abs(value);
  if (term === 'time') return `${sign}${duration(size)}`;
  if (term === 'distortion') return `${sign}${amount(size / 10, 1)} mm of distortion`;
  return term === 'wishes' ? `${sign}${amount(size)} of wishes` : `${sign}${termText(term, size)}`;
}

/** What a pattern costs beyond the own best plan of the variant: `nothing`, `+1 regrip, -2.5 s`. */
export function extraText(extra: MatrixField['extra']): string {
  if (extra === null) return 'no own plan to compare with';
  const told = extra.filter(({ value }) => value !== 0);
  return told.length === 0
    ? 'nothing'
    : told.map(({ term, value }) => differenceText(term, value)).join(', ');
}

/** What limits something, each reason once. */
export function limitsText(reasons: readonly Limit[]): string {
  const texts = [...new Set(reasons.map(({ text }) => plain(text)))];
  return texts.length === 0 ? 'no reason is known' : texts.join('; ');
}

/** Values of parameters: `height 200, thick 8`. */
export const valuesText = (values: Readonly<Record<string, ParameterValue>>): string =>
  Object.entries(values)
    .map(([name, value]) => `${plain(name)} ${shown(value)}`)
    .join(', ');

function shown(value: ParameterValue): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'number' ? amount(value, 3) : plain(value);
}
