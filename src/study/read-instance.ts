import { printable } from '../io/show.js';
import type { Source, Sources } from '../session/inputs.js';
import type { InstanceReading } from './instance.js';
import { frameInstance } from './frame-instance.js';
import { sopInstance } from './sop-instance.js';
import { weldmentInstance } from './weldment-instance.js';

/** The kinds of instance files by the ends of their names; a name is of the first kind that fits. */
const READERS: readonly {
  readonly name: RegExp;
  readonly read: (sources: InstanceSources) => InstanceReading;
}[] = [
  { name: /\.sop(\.gz)?$/i, read: ({ instance }) => sopInstance(instance) },
  {
    name: /\.weldment\.(ya?ml|json)(\.gz)?$/i,
    read: ({ instance, ...others }) => weldmentInstance({ weldment: instance, ...others }),
  },
  { name: /\.frame\.(ya?ml|json)(\.gz)?$/i, read: ({ instance }) => frameInstance(instance) },
];

/** The text of an instance, unpacked, and what all weldments of a study share. */
export interface InstanceSources extends Pick<Sources, 'cell' | 'settings'> {
  readonly instance: Sources['weldment'];
}

/** A key that every published frame has, whatever its file is called. */
const looksLikeFrame = ({ name, text }: Source): boolean =>
  /\.json(\.gz)?$/i.test(name) && text.includes('"node_list"');

const readerOf = (instance: Source) =>
  READERS.find(({ name }) => name.test(instance.name)) ??
  (looksLikeFrame(instance)
    ? { read: ({ instance: file }: InstanceSources) => frameInstance(file) }
    : undefined);

/** Whether a file is an instance, by its name or, a frame, by what is in it. */
export const isInstance = (file: Source): boolean => readerOf(file) !== undefined;

/** Reads an instance by what the name of its file says it is. Every issue is told. */
export function readInstance(sources: InstanceSources): InstanceReading {
  const file = sources.instance.name;
  const reader = readerOf(sources.instance);
  if (reader !== undefined) return reader.read(sources);
  const issue = {
    ...{ code: 'no-instance', severity: 'error' as const, file, line: 0, path: '' },
    problem: `the name "${printable(file.replace(/^.*[/\\]/, ''))}" does not say what kind of instance this is`,
    remedy: 'end it in .sop, .sop.gz, .weldment.yaml, .weldment.json or .frame.json',
  };
  return { value: undefined, issues: [issue] };
}
