import { closePrecedence } from '../algorithms/precedence.js';
import {
  isIdle,
  mostCost,
  precedencePairs,
  type SequentialOrdering,
} from '../algorithms/sequential-ordering.js';
import { fail, ok, type Result } from '../base/result.js';

/** A sequential-ordering instance as read from a file. */
export interface SopInstance extends SequentialOrdering {
  readonly name: string;
}

export interface SopIssue {
  /** Line of the file, from 1. */
  readonly line: number;
  /** What is wrong, with the value. */
  readonly problem: string;
  /** What would be right. */
  readonly remedy: string;
}

interface Token {
  readonly text: string;
  readonly line: number;
}

/** Headers whose value this reader depends on, and the only value it understands. */
const REQUIRED: Readonly<Record<string, string>> = {
  TYPE: 'SOP',
  EDGE_WEIGHT_TYPE: 'EXPLICIT',
  EDGE_WEIGHT_FORMAT: 'FULL_MATRIX',
};

/**
 * Reads the text of a `.sop` file: the TSPLIB form with headers (Reinelt 1991), or the bare form of SOPLIB, a
 * size and then the matrix. A file that is compressed is for the caller to unpack. Gives the instance, or every issue
 * found, among them a cycle of nodes that must each come before the next.
 */
export function parseSop(text: string, name = 'unnamed'): Result<SopInstance, readonly SopIssue[]> {
  const lines = text.split(/\r?\n/);
  const issues: SopIssue[] = [];
  const sectionAt = lines.findIndex((line) => /^\s*EDGE_WEIGHT_SECTION\s*:?\s*$/.test(line));
  const headers = readHeaders(lines.slice(0, Math.max(0, sectionAt)), issues);
  if (sectionAt < 0 && lines.some((line) => line.includes(':')))
    issues.push({
      line: lines.length,
      problem: 'no line EDGE_WEIGHT_SECTION',
      remedy: 'put it before the number of nodes, or leave all headers out',
    });
  if (issues.length > 0) return fail(issues);
  const tokens = readTokens(lines, sectionAt + 1);
  const cost = readMatrix(tokens, headers.get('DIMENSION'), lines.length, issues);
  return issues.length > 0 ? fail(issues) : ok({ name: headers.get('NAME')?.text ?? name, cost });
}

function readHeaders(lines: readonly string[], issues: SopIssue[]): Map<string, Token> {
  const headers = new Map<string, Token>();
  lines.forEach((text, index) => {
    const line = index + 1;
    if (text.trim() === '') return;
    const [, key, value] = /^\s*([A-Z_]+)\s*:\s*(.*?)\s*$/.exec(text) ?? [];
    if (key === undefined || value === undefined) {
      issues.push({
        line,
        problem: `"${text.trim()}" is not a header of the form KEY: value`,
        remedy: 'write one, or leave all headers out',
      });
      return;
    }
    const needed = REQUIRED[key];
    if (needed !== undefined && value !== needed)
      issues.push({
        line,
        problem: `${key} is ${value}; only ${needed} can be read`,
        remedy: 'convert the file',
      });
    headers.set(key, { text: value, line });
  });
  return headers;
}

function readTokens(lines: readonly string[], from: number): Token[] {
  const tokens: Token[] = [];
  for (let index = from; index < lines.length; index += 1) {
    const words = lines[index]!.split(/\s+/).filter((word) => word !== '');
    if (words[0] === 'EOF') break;
    for (const text of words) tokens.push({ text, line: index + 1 });
  }
  return tokens;
}

function readMatrix(
  tokens: readonly Token[],
  declared: Token | undefined,
  lastLine: number,
  issues: SopIssue[],
): number[][] {
  const first = tokens[0];
  const n = Number(first?.text);
  if (first === undefined || !Number.isInteger(n) || n < 2) {
    const found = first === undefined ? 'nothing' : `"${first.text}"`;
    issues.push({
      line: first?.line ?? lastLine,
      problem: `the number of nodes should stand here, found ${found}`,
      remedy: 'write a whole number from 2, then the matrix',
    });
    return [];
  }
  if (declared !== undefined && Number(declared.text) !== n)
    issues.push({
      line: declared.line,
      problem: `DIMENSION is ${declared.text}, but the matrix says ${n}`,
      remedy: 'make them agree',
    });
  const entries = tokens.slice(1);
  if (entries.length !== n * n) {
    const line = entries[n * n]?.line ?? entries.at(-1)?.line ?? first.line;
    issues.push({
      line,
      problem: `${entries.length} entries instead of ${n} x ${n} = ${n * n}`,
      remedy: 'give a row of the matrix for every node',
    });
    return [];
  }
  const values = entries.map((token) => readEntry(token, issues));
  const cost = Array.from({ length: n }, (_, row) => values.slice(row * n, (row + 1) * n));
  checkSize(cost, entries, issues);
  checkPrecedence(cost, entries, issues);
  return cost;
}

/** Names the first cost that is too large to be added up exactly. */
function checkSize(cost: number[][], entries: readonly Token[], issues: SopIssue[]): void {
  const n = cost.length;
  const at = cost.flat().findIndex((value, i) => value > mostCost(n) && !isIdle(n, Math.floor(i / n), i % n));
  if (at < 0) return;
  issues.push({
    line: entries[at]!.line,
    problem: `"${entries[at]!.text}" is too large to be added up without rounding`,
    remedy: `use at most ${mostCost(n)}`,
  });
}

function readEntry(token: Token, issues: SopIssue[]): number {
  const value = Number(token.text);
  if (Number.isInteger(value) && value >= -1) return value;
  issues.push({
    line: token.line,
    problem: `"${token.text}" is not a cost`,
    remedy: 'use a whole number from 0, or -1 for "comes after"',
  });
  return 0;
}

/** Names a node before itself, two before each other, or, where there is neither, a longer cycle. */
function checkPrecedence(cost: number[][], entries: readonly Token[], issues: SopIssue[]): void {
  const n = cost.length;
  const lineOf = (i: number, j: number): number => entries[i * n + j]!.line;
  const before = issues.length;
  const complain = (line: number, problem: string, remedy: string): void => {
    issues.push({ line, problem, remedy });
  };
  for (let i = 0; i < n; i += 1) {
    if (cost[i]![i] === -1)
      complain(lineOf(i, i), `node ${i} is to come before itself`, 'write 0 on the diagonal of the matrix');
    for (let j = 0; j < i; j += 1) {
      if (cost[i]![j] === -1 && cost[j]![i] === -1)
        complain(
          lineOf(i, j),
          `nodes ${j} and ${i} are each to come before the other`,
          'take one of the two -1 away',
        );
    }
  }
  const closed = closePrecedence(precedencePairs({ cost }));
  if (closed.ok || issues.length > before) return;
  const cycle = [...closed.error, closed.error[0]!];
  const stated = cycle
    .slice(1)
    .flatMap((i, at) => (cost[i]![cycle[at]!] === -1 ? [lineOf(i, cycle[at]!)] : []));
  complain(
    Math.max(...stated),
    `nodes wait for each other: ${cycle.join(' before ')}`,
    'take one of these -1 away (node 0 comes before all others and the last node after them)',
  );
}
