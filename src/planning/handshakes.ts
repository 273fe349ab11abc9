import { Graph } from '@dagrejs/graphlib';
import { transitiveReduction } from '../algorithms/digraph.js';
import type { Precedence, ProgramPoint, RawPrograms } from './programs.js';

const node = ({ robot, index }: ProgramPoint): string => `${robot} ${index}`;

/**
 * The precedences that neither program order nor the other precedences imply: the cross edges of the transitive
 * reduction (Aho, Garey, Ullman 1972). Each needs one signal and one wait. Expects an acyclic set, which precedences
 * strung stage by stage are; throws an Error naming the cycle otherwise.
 */
export function neededPrecedences({ programs, precedences }: RawPrograms): readonly Precedence[] {
  const graph = new Graph();
  programs.forEach((steps, robot) =>
    steps.forEach((_, index) => {
      graph.setNode(node({ robot, index }));
      if (index > 0) graph.setEdge(node({ robot, index: index - 1 }), node({ robot, index }));
    }),
  );
  for (const { from, to } of precedences) graph.setEdge(node(from), node(to));
  const reduced = transitiveReduction(graph);
  if (!reduced.ok) throw new Error(`the robots would wait for each other: ${reduced.error.nodes.join(', ')}`);
  return precedences.filter(({ from, to }) => reduced.value.hasEdge(node(from), node(to)));
}
