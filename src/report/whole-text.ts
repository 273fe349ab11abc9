import type { GeometricPlan } from '../model/plan.js';
import type { PlanWhole, Totals, TriedSplit } from '../model/plan-whole.js';
import { termText } from './claim-text.js';
import { amount, counted, listed, reserveText } from './numbers.js';
import { plain } from './plain.js';
import { refusalText } from './refusal-text.js';

type Search = NonNullable<PlanWhole['search']>;
type SubAssemblies = NonNullable<GeometricPlan['subAssemblies']>;

const totalsText = (totals: Totals): string =>
  totals.map(({ term, value }) => termText(term, value)).join(', ');

/** What all plans come to together, and what that counts. */
export function togetherText({ objective, changesBetween }: PlanWhole, groups: number): string {
  const changes =
    changesBetween === 0
      ? ''
      : `, and ${counted(changesBetween, 'gripper change')} between one and the next, without the time of it`;
  const between =
    groups === 0
      ? ''
      : ' Taking a sub-assembly out, measuring it and laying it at the infeed is the work of people and not counted.';
  return `${totalsText(objective)}: the sums over ${counted(groups + 1, 'plan')} carried out one after another${changes}.${between}`;
}

const reasonText = ({ code, subjects, value, limit }: NonNullable<TriedSplit['reason']>): string =>
  refusalText({
    ...{ code, subjects },
    ...(value !== undefined && { value }),
    ...(limit !== undefined && { limit }),
  });

/** Why one split of those that were tried was not taken, or what it comes to. */
export function triedText({ groups, outcome, objective, of, reason }: TriedSplit): string {
  const apart = groups.map(({ parts, rest }) => `${listed(parts.map(plain))} on ${plain(rest)}`).join('; ');
  const against = reason ? ` (${reasonText(reason)})` : '';
  switch (outcome) {
    case 'planned':
      return `${apart}: ${totalsText(objective ?? [])}`;
    case 'dearer':
      return `${apart}: given up, the plan of ${groups.length === 1 ? 'the group' : 'the groups'} alone is no better than the best so far`;
    case 'impossible':
      return `${apart}: no plan of ${plain(of ?? '')} exists${against}`;
    case 'none-found':
      return `${apart}: no plan of ${plain(of ?? '')} was found${against}`;
    case 'refused':
      return reason
        ? `${apart}: refused by rule or check ${plain(reason.code)} at ${reason.subjects.map(plain).join(', ')}`
        : `${apart}: refused`;
  }
}

const WHY_CUT: Readonly<Record<NonNullable<Search['cutBy']>, string>> = {
  tries: 'no more are tried',
  seconds: 'the seconds that were given ended the search',
  stop: 'the search was interrupted',
};

function onePieceText({ inOnePiece }: PlanWhole): string {
  if (inOnePiece === undefined) return '';
  switch (inOnePiece.outcome) {
    case 'planned':
      return `In one piece: ${totalsText(inOnePiece.objective ?? [])}. `;
    case 'impossible':
      return 'In one piece there is no plan (proved within its scope). ';
    case 'none-found':
      return 'In one piece no plan was found. ';
  }
}

/** How sub-assemblies were looked for, and what is claimed of the choice; empty where nobody looked. */
export function searchText(whole: PlanWhole, groups: number): string {
  const { search } = whole;
  if (search === undefined)
    return 'The sub-assemblies are those that the weldment file names; others, or none, were not compared.';
  const { liftable, largest, cut, promising, tried, cutBy } = search;
  const among = `${cut ? 'more than ' : ''}${counted(liftable, 'connected group')} of at most ${amount(largest)} parts that a robot may lift`;
  const choice =
    groups > 0
      ? 'Taken: the best of these splits and of the plan in one piece; another split may be better.'
      : tried.length === 0
        ? 'None is taken: on none of them is there anything to be gained.'
        : 'None is taken: no split that was tried is better; another may be.';
  const ended = cutBy === undefined ? '' : ` (${WHY_CUT[cutBy]})`;
  return `${onePieceText(whole)}Of ${among}, ${amount(promising)} ${promising === 1 ? 'promises' : 'promise'} something; ${counted(tried.length, 'split')} tried, the most promising first${ended}. ${choice}`;
}

/** Of what there is no plan where it is a sub-assembly, and which splits were tried in vain; empty where nobody asked for any. */
export function apartText({
  of,
  splits,
}: {
  readonly of?: string | undefined;
  readonly splits?: Search | undefined;
}): string {
  const about = of === undefined ? [] : [`Sub-assembly ${plain(of)}, which is planned by itself first:`];
  if (splits === undefined) return about.map((line) => `${line}\n`).join('');
  const tried = splits.tried.map((one) => `  - ${triedText(one)}`);
  const head = `In one piece, and with ${counted(splits.tried.length, 'split')} into sub-assemblies that ${splits.tried.length === 1 ? 'was' : 'were'} tried of ${counted(splits.promising, 'promising group')}:`;
  return [...about, head, ...tried].map((line) => `${line}\n`).join('');
}

/** How surely a sub-assembly is lifted as one part. */
export function liftText({ name, rest, within, lift }: SubAssemblies[number]): string {
  const weakest = lift.weakest === '' ? '' : `, ${plain(lift.weakest)}`;
  const least =
    lift.reserve >= 10
      ? 'every reserve 10 or more'
      : `${reserveText(lift.reserve)} (needs ${amount(lift.required, 2)}) ${plain(lift.case)}${weakest}`;
  return `${plain(name)} lies on ${plain(rest)}, measured to be within ${amount(within, 2)} mm; lifted by its tacks as one part: ${least}.`;
}
