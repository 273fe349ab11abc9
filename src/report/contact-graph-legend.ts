import type { DrawnGraph, EdgeKind } from './drawn-graph.js';
import { line, textWidth, words } from './svg.js';
import type { Theme } from './theme.js';
import { element } from './xml.js';

const SIZE = 13;
/** Of a sample, pixels. */
const SAMPLE = 36;

/** What the marks of a graph mean; only those that it has. */
export function contactLegend({ edges, nodes, says }: DrawnGraph, y: number, theme: Theme): string {
  const sample = (kind: EdgeKind) => (x: number) => line([x, y], [x + SAMPLE, y], theme.paint(kind));
  const plate = (x: number): string =>
    element('rect', { x, y: y - 9, width: SAMPLE, height: 18, rx: 9, ...theme.paint('plate') });
  const double = (x: number): string =>
    [0, 3]
      .map((inset) => {
        const size = { x: x + inset, y: y - 9 + inset, width: SAMPLE - 2 * inset, height: 18 - 2 * inset };
        return element('rect', { ...size, ...theme.paint(inset === 0 ? 'base' : 'inner') });
      })
      .join('');
  const has = (kind: EdgeKind): boolean => edges.some((edge) => edge.kind === kind);
  const entries = (
    [
      [has('bearing'), says.bearing, sample('bearing')],
      [has('adjacent'), says.adjacent, sample('adjacent')],
      [has('apart'), says.apart, sample('apart')],
      [edges.some(({ plates }) => plates.length > 0), says.plate, plate],
      [nodes.some(({ first }) => first !== undefined), says.first, double],
    ] as const
  ).filter(([shown]) => shown);
  let x = 24;
  const marks = entries.map(([, text, mark]) => {
    const entry = mark(x) + words(x + SAMPLE + 8, y + 4.5, text, theme.paint('word'));
    x += SAMPLE + 8 + textWidth(text, SIZE) + 26;
    return entry;
  });
  return element('g', { 'font-size': SIZE }, ...marks);
}
