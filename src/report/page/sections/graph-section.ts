import { graphDrawing } from '../../contact-graph-svg.js';
import { abstractGraph, planGraph, type DrawnGraph } from '../../drawn-graph.js';
import { ON_PAGE } from '../../theme.js';
import { html, table, text } from '../html.js';
import { isGeometric, type PageContext } from '../page-context.js';

/** The contact graph, layered by the order in which parts join, and its edges as a table. */
export function graphSection(context: PageContext): string {
  const graph = isGeometric(context)
    ? planGraph(context.plan, context.scene)
    : abstractGraph(context.plan, context.weldment);
  if (graph.nodes.length === 0) return '';
  return [
    html('p', {}, text(`${graph.note}; every part stands above those that it met when it came.`)),
    html(
      'div',
      { class: 'graph-box', tabindex: 0, role: 'region', 'aria-label': 'Drawing of the contact graph' },
      graphDrawing(graph, ON_PAGE),
    ),
    html(
      'details',
      { class: 'as-table' },
      html('summary', {}, 'The contact graph as a table'),
      edgeTable(graph),
    ),
  ].join('\n');
}

function edgeTable({ nodes, edges, says }: DrawnGraph): string {
  return table({
    caption: 'Parts that meet or are joined, by the order in which they join',
    heads: ['part', 'and', 'how they meet', 'joints'],
    rows: edges.map(({ a, b, kind, plates }) => ({
      cells: [nodes[a]!.name, nodes[b]!.name, says[kind], plates.map((plate) => plate.text).join(', ')],
    })),
  });
}
