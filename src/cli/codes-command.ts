import { canonicalText } from '../io/canonical.js';
import { nearestWord } from '../io/nearest-word.js';
import { codeCatalogue, codeText } from '../report/code-catalogue.js';
import { codeEntries, codeEntry, type CodeEntry } from '../report/codes/code-entries.js';
import { plain } from '../report/plain.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { putOut } from './put-out.js';

export interface CodesFlags {
  readonly out?: string;
  readonly json?: boolean;
}

/** `tackwright codes`: what the code of an issue, refusal, reason or finding means; without one, every code. */
export function codesCommand(code: string | undefined, { out, json }: CodesFlags): ExitCode {
  if (code === undefined) return putOut(json === true ? canonicalText(codeEntries()) : codeCatalogue(), out);
  const entry = codeEntry(code);
  if (entry === undefined) {
    process.stderr.write(`${unknown(code)}\n`);
    return EXIT.usage;
  }
  return putOut(json === true ? canonicalText(entry) : codeText(entry), out);
}

/** Codes shown at most that a part of a code is in. */
const MOST_SHOWN = 8;

function unknown(code: string): string {
  const known = codeEntries().map((entry: CodeEntry) => entry.code);
  const whole = known.filter((one) => code !== '' && one.includes(code.toLowerCase()));
  const nearest = nearestWord(code, known);
  const more = whole.length > MOST_SHOWN ? ` and ${whole.length - MOST_SHOWN} more` : '';
  const maybe =
    whole.length > 0
      ? `it is a part of ${whole.slice(0, MOST_SHOWN).join(', ')}${more}; `
      : nearest === undefined
        ? ''
        : `maybe ${nearest}: `;
  return `there is no code "${plain(code)}"; ${maybe}\`tackwright codes\` lists them all`;
}
