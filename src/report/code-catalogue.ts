import { CODE_AREAS, type CodeArea } from './codes/code-areas.js';
import type { CodeEntry } from './codes/code-entries.js';

const HEAD = [
  '# Codes',
  'Every issue, refusal and reason carries its code as `code` in what `--json` prints, every finding as `rule`. Codes stay what they are;',
  'texts may change. `tackwright codes CODE` prints one. An `N` stands for the number of a joint.',
];

/** Every code with its title, meaning and remedy, as Markdown. */
export const codeCatalogue = (): string => [...HEAD, ...CODE_AREAS.flatMap(section)].join('\n').concat('\n');

const section = ({ title, codes }: CodeArea): readonly string[] => [
  '',
  `## ${title}`,
  '',
  '| code | title | meaning | what to do |',
  '|---|---|---|---|',
  ...Object.entries(codes).map(
    ([code, words]) =>
      `| \`${code}\` | ${cell(words.title)} | ${cell(words.meaning)} | ${cell(words.remedy)} |`,
  ),
];

/** A text that stays within its cell of the table. */
const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

/** One code in words for a terminal: code and kind, title, meaning, what to do. */
export const codeText = ({ code, kind, title, meaning, remedy }: CodeEntry): string =>
  `${code} (${kind}): ${title}\n  ${meaning}\n  What to do: ${remedy}\n`;
