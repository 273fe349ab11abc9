import { z } from 'zod';
import type { Issue } from '../model/issue.js';
import type { Frame, FrameChoices } from '../model/frame.js';
import { frameOf } from '../model/frame.js';
import type { SourceDocument } from './document.js';
import { issueAt } from './issue-at.js';
import type { Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';

/** Millimetres in the units that a frame may be given in. */
const MILLIMETRES = { millimeter: 1, centimeter: 10, meter: 1000 } as const;

/** Larger frames are taken for a mistake (our choice). */
const MOST = 10_000;
/** Bars shorter than this as built, and nodes this far below the table, are mistakes, mm (our choice). */
const GRAIN = 1;

const coordinate = z.number().finite().min(-1_000_000).max(1_000_000);
const index = z.int().min(0).max(MOST);

/** What is read of a published frame; such files carry many other fields, which are passed over. */
const frameFileSchema = z.object({
  unit: z.enum(['millimeter', 'centimeter', 'meter']).describe('the unit of all coordinates'),
  node_list: z
    .array(
      z.object({
        point: z.object({ X: coordinate, Y: coordinate, Z: coordinate }),
        is_grounded: z
          .union([z.literal(0), z.literal(1), z.boolean()])
          .describe('1 for a node that stands on the table'),
      }),
    )
    .min(2)
    .max(MOST),
  element_list: z
    .array(z.object({ end_node_ids: z.tuple([index, index]).describe('the two nodes of a bar, from 0') }))
    .min(1)
    .max(MOST),
});

type FrameFile = z.infer<typeof frameFileSchema>;

/**
 * Reads a frame of bars between nodes (JSON or YAML): `node_list` with `point` and `is_grounded`, `element_list` with
 * `end_node_ids`, numbers of nodes from 0. Bars become round tubes by `choices`; unknown fields are passed over.
 */
export const readFrame = (text: string, file: string, choices: FrameChoices): Reading<Frame> =>
  readBy(text, file, (document) =>
    judgeBy(frameFileSchema, checksOf(choices), (content) =>
      frameOf(
        nodesOf(content, choices),
        content.element_list.map((bar) => bar.end_node_ids),
        choices,
      ),
    )(document),
  );

const nodesOf = (file: FrameFile, { scale }: FrameChoices): Frame['nodes'] =>
  file.node_list.map(({ point: { X, Y, Z }, is_grounded }) => {
    const factor = MILLIMETRES[file.unit] * scale;
    return { point: [X * factor, Y * factor, Z * factor], grounded: Boolean(is_grounded) };
  });

const checksOf =
  (choices: FrameChoices) =>
  (document: SourceDocument): readonly Issue[] => {
    const parsed = frameFileSchema.safeParse(document.value);
    if (!parsed.success) return [];
    const nodes = nodesOf(parsed.data, choices);
    const bars = barIssues(parsed.data, nodes, document);
    return bars.length > 0 ? bars : groundIssues(parsed.data, nodes, document);
  };

function barIssues(file: FrameFile, nodes: Frame['nodes'], document: SourceDocument): readonly Issue[] {
  const seen = new Map<string, number>();
  return file.element_list.flatMap(({ end_node_ids: [a, b] }, i) => {
    const say = (problem: string, remedy: string): Issue[] => [
      issueAt(document, ['element_list', i, 'end_node_ids'], { code: 'frame', problem, remedy }),
    ];
    const missing = [a, b].find((node) => node >= nodes.length);
    if (missing !== undefined)
      return say(`names node ${missing} of ${nodes.length}`, `use 0 to ${nodes.length - 1}`);
    const [from, to] = [nodes[a]!.point, nodes[b]!.point];
    const length = Math.hypot(from[0] - to[0], from[1] - to[1], from[2] - to[2]);
    if (length < GRAIN)
      return say(`is ${length.toFixed(3)} mm long as built`, `let it be at least ${GRAIN} mm long`);
    const pair = `${Math.min(a, b)} ${Math.max(a, b)}`;
    const other = seen.get(pair);
    seen.set(pair, i);
    return other === undefined ? [] : say(`is the same bar as element_list[${other}]`, 'remove one of them');
  });
}

/** Every bar must reach the table over others, and none may lie below it. */
function groundIssues(file: FrameFile, nodes: Frame['nodes'], document: SourceDocument): readonly Issue[] {
  const used = new Set(file.element_list.flatMap(({ end_node_ids }) => end_node_ids));
  const grounded = [...used].filter((node) => nodes[node]!.grounded);
  const say = (path: readonly (string | number)[], problem: string, remedy: string): Issue =>
    issueAt(document, path, { code: 'frame', problem, remedy });
  if (grounded.length === 0)
    return [say(['node_list'], 'no bar ends at a grounded node', 'mark one with is_grounded: 1')];
  const table = Math.min(...grounded.map((node) => nodes[node]!.point[2]));
  const below = [...used]
    .filter((node) => nodes[node]!.point[2] < table - GRAIN)
    .map((node) =>
      say(
        ['node_list', node, 'point'],
        `is ${(table - nodes[node]!.point[2]).toFixed(1)} mm as built below the lowest grounded node`,
        'let it be above the table',
      ),
    );
  const reached = reachedFrom(grounded, file);
  const loose = file.element_list.flatMap(({ end_node_ids: [a] }, i) =>
    reached.has(a)
      ? []
      : [say(['element_list', i], 'is joined to no grounded node over other bars', 'join it, or remove it')],
  );
  return [...below, ...loose];
}

function reachedFrom(grounded: readonly number[], file: FrameFile): ReadonlySet<number> {
  const beside = new Map<number, number[]>();
  for (const {
    end_node_ids: [a, b],
  } of file.element_list) {
    beside.set(a, [...(beside.get(a) ?? []), b]);
    beside.set(b, [...(beside.get(b) ?? []), a]);
  }
  const reached = new Set(grounded);
  for (const node of reached) for (const next of beside.get(node) ?? []) reached.add(next);
  return reached;
}
