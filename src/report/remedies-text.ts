import type { RemedySearch, TriedRemedy } from '../model/tried-remedy.js';
import { termText } from './claim-text.js';
import { amount, counted, listed } from './numbers.js';
import { plain, wrapped } from './plain.js';

const WIDTH = 100;

/** `a plan with 1 regrip, 0 tool changes, 1 min 11 s`, and of how many smaller changes it was not decided. */
function planText({ objective, openBelow }: TriedRemedy, steps: number): string {
  const terms = objective
    .filter(({ term, value }) => term !== 'distortion' || value > 0)
    .map(({ term, value }) => termText(term, value));
  const smallest =
    openBelow === undefined
      ? ''
      : `; the smallest found in ${counted(steps, 'step')} a try, ${counted(openBelow, 'smaller change')} not decided`;
  return `a plan with ${terms.join(', ')}${smallest}`;
}

/** One remedy: what to do, what the plan is then, and what a person must answer for. */
function remedyLines(remedy: TriedRemedy, number: number, steps: number): string[] {
  const told = plain(`${remedy.words}: ${planText(remedy, steps)}`);
  const caution = remedy.caution === undefined ? [] : wrapped(`but: ${plain(remedy.caution)}`, WIDTH - 5);
  return [
    ...wrapped(told, WIDTH - 5).map((line, i) => `${i === 0 ? `  ${number}  ` : '     '}${line}`),
    ...caution.map((line) => `     ${line}`),
  ];
}

const WHY_CUT: Readonly<Record<NonNullable<RemedySearch['cutBy']>, string>> = {
  tries: 'No more than that is tried; other changes may help too.',
  seconds: 'The search for remedies ended with the seconds that were given; other changes may help too.',
  stop: 'The search for remedies was interrupted; other changes may help too.',
};

const NOTHING_TO_TRY =
  'Nothing was tried that would help: no change that Tackwright knows speaks to these reasons.';

/** The kinds of change that were tried: `rest face, grip density and moved table`. */
const kindsText = (kinds: readonly string[]): string =>
  listed(kinds.map((kind) => kind.replaceAll('-', ' ')));

/** Tries that ended before there was a plan or a proof that there is none. */
const openLines = ({ open, steps }: RemedySearch): readonly string[] =>
  open === undefined
    ? []
    : wrapped(
        `Not decided: ${counted(open, 'try', 'tries')} gave neither a plan nor a proof that there is none (${counted(steps, 'step')} of search each); what was changed there may help too.`,
        WIDTH,
      );

const FIRST_FOUND = 'The plan is the first that was found; `plan` with the changed files looks for the best.';

/** What would help where there is no plan, as far as it was tried; cheapest first. */
export function remediesText(search: RemedySearch): string {
  const { remedies, tries, pairs = 0, kinds, cutBy, steps } = search;
  const cut = cutBy === undefined ? [] : [WHY_CUT[cutBy]];
  if (tries === 0) return `${cut[0] ?? NOTHING_TO_TRY}\n`;
  const how =
    pairs === 0
      ? 'Would help, each tried by itself, cheapest first:'
      : 'No change that was tried helps by itself. Would help, two changes at once, cheapest first:';
  const ofPairs = pairs === 0 ? '' : `, ${amount(pairs)} of them with two changes at once`;
  const tried = `${counted(tries, 'changed input')} tried${ofPairs}: ${kindsText(kinds)}`;
  const lines =
    remedies.length === 0
      ? wrapped(`Nothing that was tried helps (${tried}).`, WIDTH)
      : [how, ...remedies.flatMap((remedy, i) => remedyLines(remedy, i + 1, steps)), FIRST_FOUND];
  return `${[...lines, ...openLines(search), ...cut].join('\n')}\n`;
}
