import type { Alias, Node, Pair, Scalar, YAMLMap, YAMLSeq } from 'yaml';
import { isAlias, isMap, isScalar, isSeq } from 'yaml';
import { printable } from './show.js';

/** A line of the file and, for maps and lists, the places inside. */
export interface Place {
  /** 1-based; of the key for the value of a map. */
  readonly line: number;
  readonly inside: ReadonlyMap<PropertyKey, Place>;
}

/** Something wrong with the text itself, before any schema. */
export interface TextFault {
  readonly code: string;
  readonly line: number;
  readonly path: readonly PropertyKey[];
  readonly problem: string;
  readonly remedy: string;
}

/** How many values may come from repeating anchors, in all: far more than a person writes, far less than a bomb. */
export const MOST_REPEATED = 10_000;

interface Walk {
  readonly lineAt: (offset: number) => number;
  readonly anchors: Map<string, Node>;
  readonly open: Set<Node>;
  readonly faults: TextFault[];
  repeated: number;
  insideAlias: boolean;
}

interface Taken {
  readonly value: unknown;
  readonly place: Place;
}

const NOWHERE: ReadonlyMap<PropertyKey, Place> = new Map();

/**
 * The plain value of a parsed YAML node (maps as objects, lists as arrays) with the line of everything in it.
 * Keys given twice (the first wins), keys that are no single word, the key `__proto__`, and anchors that are
 * unknown, contain themselves or multiply beyond `MOST_REPEATED` are faults.
 *
 * @param lineAt the 1-based line of an offset in the text
 */
export function plainValue(
  root: Node | null,
  lineAt: (offset: number) => number,
): { readonly value: unknown; readonly place: Place; readonly faults: readonly TextFault[] } {
  const walk: Walk = {
    lineAt,
    anchors: new Map(),
    open: new Set(),
    faults: [],
    repeated: 0,
    insideAlias: false,
  };
  const line = root?.range ? lineAt(root.range[0]) : 1;
  const { value, place } = take(walk, root, [], line);
  return { value, place, faults: walk.faults };
}

function take(walk: Walk, node: Node | null, path: readonly PropertyKey[], line: number): Taken {
  if (walk.insideAlias && ++walk.repeated > MOST_REPEATED) return nothing(line);
  if (isAlias(node)) return takeAlias(walk, node, path, line);
  const anchor = (node as { anchor?: string } | null)?.anchor;
  if (node !== null && anchor !== undefined) walk.anchors.set(anchor, node);
  if (isMap(node)) return takeInside(walk, node, () => takeMap(walk, node, path, line));
  if (isSeq(node)) return takeInside(walk, node, () => takeList(walk, node, path, line));
  return { value: isScalar(node) ? node.value : null, place: { line, inside: NOWHERE } };
}

const nothing = (line: number): Taken => ({ value: null, place: { line, inside: NOWHERE } });

function takeInside(walk: Walk, node: Node, body: () => Taken): Taken {
  walk.open.add(node);
  const taken = body();
  walk.open.delete(node);
  return taken;
}

function takeAlias(walk: Walk, alias: Alias, path: readonly PropertyKey[], line: number): Taken {
  const source = walk.anchors.get(alias.source);
  const shown = `*${printable(alias.source)}`;
  const fault = (problem: string, remedy: string): Taken => {
    walk.faults.push({ code: 'anchor', line, path, problem, remedy });
    return nothing(line);
  };
  if (source === undefined) return fault(`${shown} has no anchor above it`, 'write the value itself');
  if (walk.open.has(source)) return fault(`${shown} contains itself`, 'write the value itself');
  if (walk.repeated > MOST_REPEATED) return nothing(line);
  const outermost = !walk.insideAlias;
  walk.insideAlias = true;
  const { value } = take(walk, source, path, line);
  walk.insideAlias = !outermost;
  if (outermost && walk.repeated > MOST_REPEATED)
    return fault(`${shown} repeats more than ${MOST_REPEATED} values`, 'write the values themselves');
  return { value, place: { line, inside: NOWHERE } };
}

function takeList(walk: Walk, list: YAMLSeq, path: readonly PropertyKey[], line: number): Taken {
  const inside = new Map<PropertyKey, Place>();
  const value = list.items.map((item, i) => {
    const node = item as Node | null;
    const itemLine = node?.range ? walk.lineAt(node.range[0]) : line;
    const taken = take(walk, node, [...path, i], itemLine);
    inside.set(i, taken.place);
    return taken.value;
  });
  return { value, place: { line, inside } };
}

function takeMap(walk: Walk, map: YAMLMap, path: readonly PropertyKey[], line: number): Taken {
  const inside = new Map<PropertyKey, Place>();
  const value: Record<string, unknown> = {};
  for (const pair of map.items as Pair<Node | null, Node | null>[]) {
    const keyLine = pair.key?.range ? walk.lineAt(pair.key.range[0]) : line;
    const key = keyOf(walk, pair.key, path, keyLine, inside);
    if (key === undefined) continue;
    const taken = take(walk, pair.value, [...path, key], keyLine);
    inside.set(key, taken.place);
    value[key] = taken.value;
  }
  return { value, place: { line, inside } };
}

/** The key as it is written (`1.0` stays `1.0`), or undefined with a fault when it cannot be used. */
function keyOf(
  walk: Walk,
  node: Node | null,
  path: readonly PropertyKey[],
  line: number,
  taken: ReadonlyMap<PropertyKey, Place>,
): string | undefined {
  const fault = (code: string, at: readonly PropertyKey[], problem: string, remedy: string): undefined => {
    walk.faults.push({ code, line, path: at, problem, remedy });
    return undefined;
  };
  const key = isScalar(node) ? wordOf(node) : undefined;
  if (key === undefined)
    return fault('key', path, 'a key is not a single word', 'use a plain word as the key');
  if (key === '__proto__')
    return fault('reserved-key', path, 'the key `__proto__` is reserved', 'use another name');
  const first = taken.get(key);
  if (first !== undefined)
    return fault(
      'duplicate-key',
      [...path, key],
      `the key \`${printable(key)}\` is given twice, first at line ${first.line}`,
      'keep one of them',
    );
  return key;
}

const wordOf = (scalar: Scalar): string | undefined => {
  if (typeof scalar.value === 'string') return scalar.value;
  return scalar.source === undefined || scalar.source === '' ? undefined : scalar.source;
};
