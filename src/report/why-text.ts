import type { Answer, Reason, Verdict, Weighed } from '../explain/why/answer.js';
import type { Holds } from '../explain/why/holds.js';
import type { Has } from '../explain/why/opposite.js';
import type { Price, TermPrice } from '../explain/why/price.js';
import type { Term } from '../explain/difference/objective.js';
import type { Question } from '../explain/why/question.js';
import { termText } from './claim-text.js';
import { changesText } from './compare-text.js';
import { reasonLines } from './impossible-text.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { reasonText } from './reason-text.js';
import { paragraph } from './text-table.js';
import { forcedInOrdersLines, openLines } from './why-open-text.js';
import { worthText } from './why-worth-text.js';

/** The two plans, as an answer calls them. */
const NAMES = { a: 'the plan', b: 'the other' } as const;

/** A question as a sentence. */
export function questionText(question: Question): string {
  switch (question.ask) {
    case 'before':
      return `Why does ${plain(question.first)} join before ${plain(question.second)}?`;
    case 'grip':
      return `Why is ${plain(question.part)} gripped as it is?`;
    case 'regrip':
      return `Why is ${plain(question.part)} regripped?`;
    case 'tack':
      return `Why is tack ${plain(question.tack)} where it is?`;
    case 'hold':
      return /^\d+$/.test(question.stage)
        ? `Why is the part of stage ${question.stage} held while it is tacked?`
        : `Why is ${plain(question.stage)} held while it is tacked?`;
    case 'not-first':
      return `Why is ${plain(question.part)} not the first part?`;
  }
}

/** What the plan has, as a whole sentence. */
function hasText(has: Has): string {
  switch (has.of) {
    case 'before':
      return `${plain(has.first)} joins in stage ${has.stages[0]}, ${plain(has.second)} in stage ${has.stages[1]}.`;
    case 'grip': {
      if (has.byHand === true) return `A person sets ${plain(has.part)}.`;
      if (has.gripper === null) return `${plain(has.part)} may be taken by any gripper.`;
      const by = has.robot === undefined ? '' : ` of ${plain(has.robot)}`;
      const at = has.position?.map((x) => amount(x, 1)).join(', ');
      const face = has.face === undefined ? '' : ` on ${plain(has.face)}, at (${at}) mm`;
      return `${plain(has.part)} is brought by ${plain(has.gripper)}${by}${face}.`;
    }
    case 'regrip':
      return has.regrips === 0
        ? `${plain(has.part)} comes without a regrip.`
        : `${plain(has.part)} comes with ${counted(has.regrips, 'regrip')}.`;
    case 'tack':
      return `It is laid in stage ${has.stage}, on the joint of ${listed(has.between.map(plain))}.`;
    case 'hold': {
      const other = has.other ? ` ${plain(has.other.robot)} holds ${plain(has.other.part)} meanwhile.` : '';
      const who = has.held === null ? 'Nobody' : plain(has.held);
      return `${who} holds ${plain(has.part)} while its securing tacks are laid in stage ${has.stage}.${other}`;
    }
    case 'not-first':
      return has.stage === 1
        ? `${plain(has.part)} is the first part.`
        : `${plain(has.first)} is the first part, ${plain(has.part)} joins in stage ${has.stage}.`;
  }
}

/** The other plan, by what it has otherwise. */
function otherwise(has: Has): string {
  switch (has.of) {
    case 'before':
      return `with ${plain(has.second)} before ${plain(has.first)}`;
    case 'grip':
      return `with another last grip of ${plain(has.part)}`;
    case 'regrip':
      return has.regrips <= 1
        ? `without a regrip of ${plain(has.part)}`
        : `with fewer regrips of ${plain(has.part)}`;
    case 'tack':
      return `with no tack near that place`;
    case 'hold':
      return `with ${plain(has.part)} let go before it is tacked`;
    case 'not-first':
      return `with ${plain(has.part)} first`;
  }
}

const SCOPES: Readonly<Record<(Verdict & { kind: 'forced' })['scope'], string>> = {
  file: 'the files say so',
  any: 'proved, whatever the candidates',
  candidates: 'proved among the candidates considered, planned as Tackwright plans',
};

/** How a part is dealt with in plans that have it otherwise. */
function dealtOtherwise(has: Has): string {
  switch (has.of) {
    case 'before':
    case 'not-first':
      return 'in such an order';
    case 'grip':
      return 'by any other last grip';
    case 'regrip':
      return has.regrips <= 1 ? 'without a regrip' : `with fewer than ${has.regrips} regrips`;
    case 'tack':
      return 'with no tack near that place';
    case 'hold':
      return 'when it is let go before that';
  }
}

function holdsText(holds: Holds, has: Has): string {
  switch (holds.when) {
    case 'with':
      return `once ${plain(holds.part)} is in place`;
    case 'without':
      return `as long as ${plain(holds.part)} is not in place`;
    case 'first':
      return 'as the first part';
    case 'otherwise':
      return dealtOtherwise(has);
  }
}

/** A fact, and where it holds. */
function reasonIn(reason: Reason, has: Has): string {
  const { fact, holds } = reason;
  if (holds === undefined) return reasonText(reason);
  const letGo = has.of === 'hold' && fact?.kind === 'reserve' && fact.part === has.part;
  const said = letGo
    ? `${plain(has.part)} does not carry every load with its reserve while it is tacked`
    : reasonText(reason);
  return `${said}, ${holdsText(holds, has)}`;
}

const more = (term: Term, value: number): string =>
  `${termText(term, Math.abs(value))} ${value > 0 ? 'more' : 'less'}`;

/** What the choice saves, and what of that is proved. */
function savedText({ price }: Weighed, first: TermPrice, has: Has): string {
  const { term, given, wished } = first;
  const found = termText(term, wished - given);
  if (price.exact)
    return `A choice: it saves ${found} against the best plan ${otherwise(has)}. That is proved: no such plan does with less.`;
  if (price.atLeast !== null)
    return `A choice: it saves at least ${termText(term, price.atLeast)} (proved) against any plan ${otherwise(has)}, and ${found} if the best one found is the best there is.`;
  return `A choice: it saves ${found} if the best plan found ${otherwise(has)} is the best there is, which is not proved.`;
}

/** Terms after the deciding one that differ too. */
function besidesText({ terms: [, ...rest] }: Price): string {
  const told = rest.map(({ term, given, wished }) => more(term, wished - given));
  return told.length === 0 ? '' : ` Of the terms that count after it, the other has ${listed(told)}.`;
}

/** The same before tacks were ordered anew, which no proof speaks of. */
function searchedText({ searched, price }: Weighed): string {
  if (searched === undefined || price.exact) return '';
  const [first] = searched.terms;
  const lead = ' Before tacks were put in an order that distorts less,';
  if (first === undefined) return `${lead} both cost the same.`;
  const { term, given, wished } = first;
  const proof = searched.exact
    ? ', proved least'
    : searched.atLeast === null
      ? ''
      : `, proved at least ${termText(term, searched.atLeast)} more`;
  return `${lead} the other had ${more(term, wished - given)}${proof}.`;
}

/** Terms of which a proof speaks for the best-ranked legal grip of each part alone, as the policies of a plan say. */
const BY_BEST_GRIPS: readonly Term[] = ['distortion', 'time'];

/** That something better than what is proved least was found: the proof speaks of fewer plans than there are. */
function beyondText({ given }: Weighed, { term }: TermPrice): string {
  return BY_BEST_GRIPS.includes(term) && (given.provedTerms as readonly Term[]).includes(term)
    ? ' What is proved of the plan does not speak of that one: it compares plans with the best-ranked legal grip and the usual tacks of each part.'
    : '';
}

function weighedText(verdict: Verdict & { kind: 'choice' | 'equal' | 'better' }, has: Has): string {
  const { price } = verdict;
  const [first] = price.terms;
  if (first === undefined)
    return `Equal: it costs nothing to have it otherwise. Another plan, ${otherwise(has)}, is as good.`;
  const by = termText(first.term, Math.abs(first.wished - first.given));
  if (verdict.kind === 'better')
    return `No reason: the plan is not the best one. A plan ${otherwise(has)} was found that is better by ${by}.${beyondText(verdict, first)}${besidesText(price)}`;
  return `${savedText(verdict, first, has)}${searchedText(verdict)}${besidesText(price)}`;
}

function forcedLines({ scope, reasons }: Verdict & { kind: 'forced' }, has: Has): string[] {
  const head = `Forced: there is no plan ${otherwise(has)} (${SCOPES[scope]}).`;
  const tied = has.of === 'tack' && reasons.every(({ holds }) => holds === undefined);
  const own = tied
    ? ` Whatever tacks of the joint of ${listed(has.between.map(plain))} would do, one of them is there.`
    : '';
  const lines = reasonLines(reasons, (reason) => reasonIn(reason, has));
  if (lines.length > 0)
    return [...paragraph('', `${head}${own} What rules it out${tied ? ' with that' : ''}:`), ...lines];
  return paragraph('', `${head}${own || ' Nothing else of the files is needed to rule it out.'}`);
}

function verdictLines({ verdict, has }: Answer): readonly string[] {
  switch (verdict.kind) {
    case 'not-so':
      return ['The plan does not have it so.'];
    case 'forced':
      return forcedLines(verdict, has);
    case 'forced-in-orders':
      return forcedInOrdersLines(verdict, otherwise(has));
    case 'dearer':
    case 'open':
    case 'unknown':
      return openLines(verdict, otherwise(has));
    default:
      return [
        ...paragraph('', weighedText(verdict, has)),
        ...paragraph('  the plan:  ', worthText(verdict.given)),
        ...paragraph('  the other: ', worthText(verdict.wished)),
        ...changes(verdict),
      ];
  }
}

function changes({ difference }: Weighed): string[] {
  const lines = changesText(difference, NAMES);
  return lines.length === 0 ? [] : ['What else is different:', ...lines.map((line) => `  ${line}`)];
}

/** One answer: the question, what the plan has, and why. */
export const answerText = (answer: Answer): string =>
  `${[questionText(answer.question), ...paragraph('', hasText(answer.has)), ...verdictLines(answer)].join('\n')}\n`;

/** Answers in the order of their questions, an empty line between them. */
export const answersText = (answers: readonly Answer[]): string => answers.map(answerText).join('\n');
