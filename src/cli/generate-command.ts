import { canonicalText } from '../io/canonical.js';
import type { Issue } from '../model/issue.js';
import { issuesText } from '../report/findings-text.js';
import { FAMILIES, findFamily } from '../study/families/families.js';
import { generateInstance, type Generated } from '../study/families/generate.js';
import type { Form } from '../study/families/structure.js';
import { instanceText } from '../study/families/instance-text.js';
import { readOptions, type InstanceOptions } from '../study/families/options.js';
import type { Family } from '../study/families/structure.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { isDevice, sameFile, unwritable, writeWhole } from './files.js';
import { alreadyThere, isThere } from './new-files.js';
import { nearestWord } from '../io/nearest-word.js';

export interface GenerateFlags extends Partial<Omit<InstanceOptions, 'parts'>> {
  readonly parts: number;
  readonly out: string;
  readonly form: string;
  readonly cell?: string;
  readonly force?: boolean;
}

const FORMS: readonly Form[] = ['abstract', 'geometric'];

/** The dials that only a weldment without shapes has. */
const ABSTRACT_ONLY = ['grippers', 'single', 'regrips'] as const;

/** What stands against a request, as one line. */
function fault(name: string, flags: GenerateFlags): string | undefined {
  const { form, cell, out } = flags;
  if (findFamily(name) === undefined) {
    const names = FAMILIES.map((family) => family.name);
    const nearest = nearestWord(name, names);
    return `no family "${name}": ${nearest === undefined ? '' : `maybe ${nearest}: `}use one of ${names.join(', ')}`;
  }
  if (!FORMS.some((one) => one === form)) return `--form ${form}: use one of ${FORMS.join(', ')}`;
  const dial = ABSTRACT_ONLY.find((one) => flags[one] !== undefined);
  if (form === 'geometric' && dial !== undefined)
    return `--${dial} is for --form abstract: a weldment with shapes takes its grips from the cell`;
  if (form === 'abstract' && cell !== undefined)
    return '--cell is for --form geometric: a weldment without shapes needs none';
  if (cell !== undefined && (cell === out || sameFile(cell, out)))
    return `--cell ${cell} and --out ${out} are one file`;
  return undefined;
}

/** JSON in its canonical form for a name that ends with .json, else YAML. */
const textFor = (file: string, value: object, about: readonly string[]): string =>
  file.endsWith('.json') ? canonicalText(value) : instanceText(value, about);

function written(file: string, text: string): boolean {
  const result = writeWhole(file, text);
  if (!result.ok) process.stderr.write(issuesText([result.error]));
  else process.stdout.write(`Written: ${file}\n`);
  return result.ok;
}

function put({ weldment, cell, about }: Generated, { out, cell: cellFile }: GenerateFlags): ExitCode {
  if (!written(out, textFor(out, weldment, about))) return EXIT.badInput;
  if (cellFile !== undefined && !written(cellFile, textFor(cellFile, cell, about))) return EXIT.badInput;
  return EXIT.done;
}

/** The files that are there already; what is written into, as /dev/null, is not replaced. */
const replaced = ({ out, cell }: GenerateFlags): readonly Issue[] =>
  [out, cell].flatMap((file) =>
    file === undefined || !isThere(file) || isDevice(file)
      ? []
      : [alreadyThere(file, 'give another name, or replace it with --force')],
  );

/** `tackwright generate`: writes an instance of a family, the same bytes for the same request. */
export function generateCommand(name: string, flags: GenerateFlags): ExitCode {
  const options = readOptions(flags);
  const wrong = fault(name, flags) ?? (options.ok ? undefined : options.error);
  if (wrong !== undefined || !options.ok) {
    process.stderr.write(`${wrong}\n`);
    return EXIT.usage;
  }
  const closed = [flags.out, flags.cell].flatMap((file) =>
    file === undefined ? [] : (unwritable(file) ?? []),
  );
  const there = closed.length > 0 || flags.force === true ? [] : replaced(flags);
  if (closed.length + there.length > 0) {
    process.stderr.write(issuesText([...closed, ...there]));
    return EXIT.badInput;
  }
  return put(generateInstance(findFamily(name) as Family, options.value, flags.form as Form), flags);
}
