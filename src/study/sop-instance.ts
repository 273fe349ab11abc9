import { orderingProblem } from '../algorithms/sequential-ordering.js';
import { digest } from '../io/digest.js';
import { parseSop } from '../io/sop.js';
import type { InstanceReading } from './instance.js';
import { judgeSop } from './judge-sop.js';
import type { Source } from '../session/inputs.js';

/** The name of a file without folder and ending. */
const bareName = (file: string): string => file.replace(/^.*[/\\]/, '').replace(/\.sop(\.gz)?$/, '');

/** A sequential-ordering instance in the TSPLIB or SOPLIB form; its nodes are called by their numbers from 0. */
export function sopInstance({ text, name: file }: Source): InstanceReading {
  const read = parseSop(text, bareName(file));
  if (!read.ok) {
    const issues = read.error.map((issue) => ({
      code: 'sop',
      severity: 'error' as const,
      file,
      path: '',
      ...issue,
    }));
    return { value: undefined, issues };
  }
  const { cost } = read.value;
  const nodes = cost.length;
  return {
    value: {
      kind: 'sop',
      name: bareName(read.value.name),
      digest: digest({ sop: cost }),
      parts: nodes,
      terms: ['cost'],
      problem: () => orderingProblem(read.value),
      order: (moves) => moves.map((move) => String(move + 1)),
      judge: (order) => judgeSop(cost, order),
    },
    issues: [],
  };
}
