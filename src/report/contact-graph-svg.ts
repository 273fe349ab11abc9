import type { Scene } from '../model/scene.js';
import {
  curveBetween,
  graphLayout,
  onCurve,
  type Curve,
  type GraphLayout,
  type GraphNode,
} from './contact-graph-layout.js';
import type { Box } from './label-places.js';
import { amount, counted } from './numbers.js';
import { PALETTE } from './palette.js';
import type { DrawnJoint } from './part-set-view.js';
import { clipped, plain } from './plain.js';
import { line, picture, pixels, textWidth, words } from './svg.js';
import { element } from './xml.js';

/** How two parts are connected: they touch, they are only near, or a joint is asked for where nothing meets. */
type Kind = 'bearing' | 'adjacent' | 'apart';

interface Edge {
  readonly a: number;
  readonly b: number;
  readonly kind: Kind;
  readonly joints: readonly DrawnJoint[];
}

function edgesOf(scene: Scene, joints: readonly DrawnJoint[]): Edge[] {
  const joining = (a: number, b: number): DrawnJoint[] =>
    joints.filter((joint) => (joint.a === a && joint.b === b) || (joint.a === b && joint.b === a));
  const met = scene.contacts.map(({ a, b, bearing }): Edge => ({
    ...{ a, b, joints: joining(a, b) },
    kind: bearing.length > 0 ? 'bearing' : 'adjacent',
  }));
  const drawn = new Set(met.flatMap((edge) => edge.joints));
  const apart = joints
    .filter((joint) => !drawn.has(joint))
    .map((joint): Edge => ({ a: joint.a, b: joint.b, kind: 'apart', joints: [joint] }));
  return [...met, ...apart];
}

const STROKES: Readonly<Record<Kind, Readonly<Record<string, string | number | undefined>>>> = {
  bearing: { stroke: PALETTE.bearing, 'stroke-width': 3 },
  adjacent: { stroke: PALETTE.adjacent, 'stroke-width': 2.2, 'stroke-dasharray': '8 6' },
  apart: { stroke: PALETTE.seam, 'stroke-width': 2, 'stroke-dasharray': '2 5' },
};

function curveMark(curve: Curve, kind: Kind): string {
  const [from, bend, to] = [curve.from, curve.bend, curve.to].map(([x, y]) => `${pixels(x)} ${pixels(y)}`);
  return element('path', { d: `M ${from!} Q ${bend!} ${to!}`, fill: 'none', ...STROKES[kind] });
}

const jointText = ({ id, type, leg }: DrawnJoint): string => `${plain(id)} ${type} ${amount(leg, 2)}`;

const SHARES = [0.5, 0.44, 0.56, 0.38, 0.62, 0.32, 0.68, 0.26, 0.74];
const SIZE = 13;

const covers = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

const plateText = ({ joints, kind }: Edge): string =>
  joints.map(jointText).join(', ') + (kind === 'apart' ? ': no contact' : '');

const plateWidth = (text: string): number => textWidth(text, SIZE) + 14;

/** The joints of an edge in a plate on its line, where it covers least. */
function jointMark(edge: Edge, curve: Curve, taken: Box[]): string {
  if (edge.joints.length === 0) return '';
  const text = plateText(edge);
  const [width, height] = [plateWidth(text), 22];
  const boxes = SHARES.map((share) => {
    const [x, y] = onCurve(curve, share);
    return { x: x - width / 2, y: y - height / 2, width, height };
  });
  const cost = (box: Box): number => taken.reduce((sum, other) => sum + covers(box, other), 0);
  const box = boxes.reduce((best, next) => (cost(next) < cost(best) - 1e-6 ? next : best));
  taken.push(box);
  return (
    element('rect', { ...box, rx: 11, fill: PALETTE.halo, stroke: PALETTE.seam, 'stroke-width': 1.4 }) +
    words(box.x + width / 2, box.y + 15.5, text, {
      'font-size': SIZE,
      'text-anchor': 'middle',
      fill: PALETTE.seam,
    })
  );
}

function nodeMark({ name, detail, box }: GraphNode, first: boolean, number: number | undefined): string {
  const x = box.x + box.width / 2;
  const inner = { x: box.x + 4, y: box.y + 4, width: box.width - 8, height: box.height - 8 };
  const stroke = { stroke: PALETTE.ink, 'stroke-width': 1.6 };
  const text = { 'text-anchor': 'middle', fill: PALETTE.ink };
  const title = number === undefined ? name : `${number}. ${name}`;
  return [
    element('rect', { ...box, rx: 4, fill: first ? PALETTE.newcomer[2] : PALETTE.part[2], ...stroke }),
    first ? element('rect', { ...inner, rx: 2, fill: 'none', ...stroke, 'stroke-width': 1 }) : '',
    words(x, box.y + 22, title, { ...text, 'font-size': 15, 'font-weight': 'bold' }),
    words(x, box.y + 39, detail, { ...text, 'font-size': 12 }),
    first
      ? words(x, box.y + box.height + 17, 'first', { ...text, 'font-size': 13, 'font-weight': 'bold' })
      : '',
  ].join('');
}

function legend(y: number, edges: readonly Edge[], first: boolean): string {
  const sample = (kind: Kind) => (x: number) => line([x, y], [x + 36, y], STROKES[kind]);
  const plate = (x: number): string =>
    element('rect', {
      ...{ x, y: y - 9, width: 36, height: 18, rx: 9 },
      ...{ fill: PALETTE.halo, stroke: PALETTE.seam, 'stroke-width': 1.4 },
    });
  const double = (x: number): string =>
    [0, 3]
      .map((inset) =>
        element('rect', {
          ...{ x: x + inset, y: y - 9 + inset, width: 36 - 2 * inset, height: 18 - 2 * inset },
          ...{ fill: PALETTE.newcomer[2], stroke: PALETTE.ink },
        }),
      )
      .join('');
  const has = (kind: Kind): boolean => edges.some((edge) => edge.kind === kind);
  const entries = (
    [
      [has('bearing'), 'bearing: may carry force', sample('bearing')],
      [has('adjacent'), 'only adjacent: may be joined', sample('adjacent')],
      [has('apart'), 'no contact', sample('apart')],
      [edges.some(({ joints }) => joints.length > 0), 'joint, type, leg in mm', plate],
      [first, 'first part', double],
    ] as const
  ).filter(([shown]) => shown);
  let x = 24;
  const marks = entries.map(([, text, mark]) => {
    const entry = mark(x) + words(x + 44, y + 4.5, text);
    x += 44 + textWidth(text, SIZE) + 26;
    return entry;
  });
  return element('g', { 'font-size': SIZE, fill: PALETTE.ink }, ...marks);
}

function curvesOf(edges: readonly Edge[], { nodes }: GraphLayout): Curve[] {
  return edges.map(({ a, b }) => {
    const others = [...nodes.values()].filter(({ part }) => part !== a && part !== b).map(({ box }) => box);
    return curveBetween(nodes.get(a)!.box, nodes.get(b)!.box, others);
  });
}

/**
 * The contact graph: parts in rows, what stands on the table at the bottom; contacts as lines, solid when they bear and
 * dashed when the parts are only adjacent; joints as plates on the lines. `order` are part indices as they join: with
 * it, parts are numbered. There must be at least one part.
 */
export function contactGraphSvg(
  scene: Scene,
  joints: readonly DrawnJoint[],
  order: readonly number[] = [],
): string {
  const { weldment, parts } = scene;
  const edges = edgesOf(scene, joints);
  const plates = edges.map((edge) => plateWidth(plateText(edge)));
  const pairs = edges.map(({ a, b }) => [a, b] as const);
  const layout = graphLayout(scene, pairs, { least: 900, gap: Math.max(50, ...plates) + 56 });
  const first = order[0] ?? (weldment.first === undefined ? undefined : scene.index.get(weldment.first));
  const curves = curvesOf(edges, layout);
  const taken = [...layout.nodes.values()].map(({ box }) => box);
  const title = `${plain(weldment.name)}: contact graph`;
  const note = `${counted(parts.length, 'part')}, ${counted(scene.contacts.length, 'contact')}, ${counted(joints.length, 'joint')}`;
  const text = { fill: PALETTE.ink, 'font-size': 20, 'font-weight': 'bold' };
  const number = (part: number): number | undefined =>
    order.includes(part) ? order.indexOf(part) + 1 : undefined;
  return picture([layout.width, layout.height + 84], title, PALETTE.ground, [
    words(24, 36, clipped(title, 72), text),
    words(24, 58, note, { fill: PALETTE.faint, 'font-size': 14 }),
    ...curves.map((curve, i) => curveMark(curve, edges[i]!.kind)),
    ...[...layout.nodes.values()].map((node) => nodeMark(node, node.part === first, number(node.part))),
    ...edges.map((edge, i) => jointMark(edge, curves[i]!, taken)).filter((mark) => mark !== ''),
    legend(layout.height + 52, edges, first !== undefined),
  ]);
}
