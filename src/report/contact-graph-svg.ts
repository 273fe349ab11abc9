import { contactLegend } from './contact-graph-legend.js';
import {
  curveBetween,
  graphLayout,
  onCurve,
  type Curve,
  type GraphLayout,
  type GraphNode,
} from './contact-graph-layout.js';
import type { DrawnGraph, GraphEdge, GraphPlate } from './drawn-graph.js';
import type { Box } from './label-places.js';
import { PAPER } from './palette.js';
import { clipped } from './plain.js';
import { picture, pixels, textWidth, words } from './svg.js';
import { ON_PAPER, picking, type Theme } from './theme.js';
import { element, escaped } from './xml.js';

function curveMark({ told, plates }: GraphEdge, curve: Curve, kind: GraphEdge['kind'], theme: Theme): string {
  const [from, bend, to] = [curve.from, curve.bend, curve.to].map(([x, y]) => `${pixels(x)} ${pixels(y)}`);
  const way = element('path', { d: `M ${from!} Q ${bend!} ${to!}`, ...theme.paint(kind) });
  return theme.marks === 'picked' && plates.length === 0
    ? element('g', {}, element('title', {}, escaped(told)), way)
    : way;
}

const SHARES = [0.5, 0.44, 0.56, 0.38, 0.62, 0.32, 0.68, 0.26, 0.74];
const SIZE = 13;
const PLATE_HEIGHT = 22;

const covers = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

const plateWidth = ({ text }: GraphPlate): number => textWidth(text, SIZE) + 14;

/** A joint in a plate on the line of its parts, where it covers least. */
function plateMark(plate: GraphPlate, curve: Curve, taken: Box[], theme: Theme): string {
  const [width, height] = [plateWidth(plate), PLATE_HEIGHT];
  const boxes = SHARES.map((share) => {
    const [x, y] = onCurve(curve, share);
    return { x: x - width / 2, y: y - height / 2, width, height };
  });
  const cost = (box: Box): number => taken.reduce((sum, other) => sum + covers(box, other), 0);
  const box = boxes.reduce((best, next) => (cost(next) < cost(best) - 1e-6 ? next : best));
  taken.push(box);
  return element(
    'g',
    picking(theme, plate.pick),
    theme.marks === 'picked' ? element('title', {}, escaped(plate.told)) : '',
    element('rect', { ...box, rx: 11, ...theme.paint('plate') }),
    words(box.x + width / 2, box.y + 15.5, plate.text, {
      ...{ 'font-size': SIZE, 'text-anchor': 'middle' },
      ...theme.paint('word'),
    }),
  );
}

function nodeMark(
  { name, detail, box }: GraphNode,
  { first, told, pick }: DrawnGraph['nodes'][number],
  theme: Theme,
): string {
  const x = box.x + box.width / 2;
  const inner = { x: box.x + 4, y: box.y + 4, width: box.width - 8, height: box.height - 8 };
  const middle = { 'text-anchor': 'middle' };
  return element(
    'g',
    picking(theme, pick),
    theme.marks === 'picked' ? element('title', {}, escaped(told)) : '',
    element('rect', { ...box, rx: 4, ...theme.paint(first === undefined ? 'part' : 'base') }),
    first === undefined ? '' : element('rect', { ...inner, rx: 2, ...theme.paint('inner') }),
    words(x, box.y + 22, name, { ...middle, ...theme.paint('strong'), 'font-size': 15 }),
    words(x, box.y + 39, detail, { ...middle, ...theme.paint('word'), 'font-size': 12 }),
    first === undefined
      ? ''
      : words(x, box.y + box.height + 17, first, { ...middle, ...theme.paint('strong'), 'font-size': 13 }),
  );
}

function curvesOf(edges: readonly GraphEdge[], { nodes }: GraphLayout): Curve[] {
  return edges.map(({ a, b }) => {
    const others = [...nodes.values()].filter(({ part }) => part !== a && part !== b).map(({ box }) => box);
    return curveBetween(nodes.get(a)!.box, nodes.get(b)!.box, others);
  });
}

/** Widest gap between two parts of a row, pixels. */
const MOST_GAP = 210;
/** Where the parts begin on a page, which has the title of the graph in its own heading. */
const TITLE = 60;

/** A graph without its frame: its parts, edges and legend. */
export function graphContent(
  graph: DrawnGraph,
  theme: Theme,
): { readonly content: readonly string[]; readonly width: number; readonly height: number } {
  const { nodes, rows, edges } = graph;
  const plates = edges.flatMap((edge) => edge.plates.map(plateWidth));
  const pairs = edges.map(({ a, b }) => [a, b] as const);
  const gap = Math.min(MOST_GAP, Math.max(50, ...plates) + 56);
  const layout = graphLayout(nodes, rows, pairs, { least: graph.least, gap, layerGap: graph.layerGap });
  const curves = curvesOf(edges, layout);
  const taken = [...layout.nodes.values()].map(({ box }) => box);
  return {
    content: [
      ...curves.map((curve, i) => curveMark(edges[i]!, curve, edges[i]!.kind, theme)),
      ...[...layout.nodes.values()].map((node) => nodeMark(node, nodes[node.part]!, theme)),
      ...edges.flatMap((edge, i) => edge.plates.map((plate) => plateMark(plate, curves[i]!, taken, theme))),
      contactLegend(graph, layout.height + 52, theme),
    ],
    width: layout.width,
    height: layout.height + 84,
  };
}

/** The graph as a picture of its own. There must be at least one part. */
export function graphPicture(graph: DrawnGraph): string {
  const theme = ON_PAPER;
  const { content, width, height } = graphContent(graph, theme);
  return picture([width, height], graph.title, PAPER.ground, [
    words(24, 36, clipped(graph.title, 72), { ...theme.paint('strong'), 'font-size': 20 }),
    words(24, 58, graph.note, { ...theme.paint('small'), 'font-size': 14 }),
    ...content,
  ]);
}

/** The graph as a drawing of a page, whose parts and joints can be picked. */
export function graphDrawing(graph: DrawnGraph, theme: Theme): string {
  const { content, width, height } = graphContent(graph, theme);
  const size = {
    width,
    height: height - TITLE,
    viewBox: `0 ${TITLE} ${pixels(width)} ${pixels(height - TITLE)}`,
  };
  return element(
    'svg',
    { class: 'drawing graph-drawing', ...size, role: 'group', 'aria-label': graph.note },
    ...content,
  );
}
