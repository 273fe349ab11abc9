import type { RemedySearch, TriedRemedy } from '../model/tried-remedy.js';
import { termText } from './claim-text.js';
import { counted, listed } from './numbers.js';
import { plain, wrapped } from './plain.js';

const WIDTH = 100;

/** `plan with 1 regrip, 0 tool changes, 1 min 11 s, proved best`. */
function planText({ objective, proved }: TriedRemedy): string {
  const terms = objective
    .filter(({ term, value }) => term !== 'distortion' || value > 0)
    .map(({ term, value }) => termText(term, value));
  return `plan with ${terms.join(', ')}, ${proved ? 'proved best' : 'the best found in a short search'}`;
}

/** One remedy: what to do, what the plan is then, and what a person must answer for. */
function remedyLines(remedy: TriedRemedy, number: number): string[] {
  const told = plain(`${remedy.words}: ${planText(remedy)}`);
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

/** What would help where there is no plan, as far as it was tried; cheapest first. */
export function remediesText({ remedies, tries, kinds, cutBy }: RemedySearch): string {
  const cut = cutBy === undefined ? [] : [WHY_CUT[cutBy]];
  if (tries === 0) return `${cut[0] ?? NOTHING_TO_TRY}\n`;
  const tried = `${counted(tries, 'changed input')} tried: ${kindsText(kinds)}`;
  const lines =
    remedies.length === 0
      ? wrapped(`Nothing that was tried helps (${tried}).`, WIDTH)
      : [
          `Would help, each tried by itself, cheapest first:`,
          ...remedies.flatMap((remedy, i) => remedyLines(remedy, i + 1)),
        ];
  return `${[...lines, ...cut].join('\n')}\n`;
}
