import { Graph } from '@dagrejs/graphlib';
import { transitiveReduction } from '../algorithms/digraph.js';
import type { HandshakeSet } from '../model/plan.js';
import type { Precedence, ProgramPoint, RawPrograms } from './programs.js';
import { schedule, type Schedule } from './schedule.js';

const node = ({ robot, index }: ProgramPoint): string => `${robot} ${index}`;

/** Precedences with the same ends as one that means and guards what all of them do. */
function withoutRepetition(precedences: readonly Precedence[]): Precedence[] {
  const kept = new Map<string, Precedence>();
  for (const one of precedences) {
    const key = `${node(one.from)} ${node(one.to)}`;
    const known = kept.get(key);
    kept.set(key, known ? together([known, one]) : one);
  }
  return [...kept.values()];
}

const listed = (texts: readonly string[]): string => [...new Set(texts)].join('; ');

/** Several precedences as one, with the ends and the name of the first. */
const together = (all: readonly [Precedence, ...Precedence[]]): Precedence => ({
  ...all[0],
  meaning: listed(all.map(({ meaning }) => meaning)),
  guards: listed(all.map(({ guards }) => guards)),
});

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
  return withoutRepetition(precedences).filter(({ from, to }) => reduced.value.hasEdge(node(from), node(to)));
}

/** A schedule with the handshakes that are left, and how many there were. */
export interface Synchronised {
  readonly schedule: Schedule;
  readonly set: Omit<HandshakeSet, 'protocol'>;
}

/** The schedule of finished programs with as few handshakes as are found for its makespan. */
export function synchronised(raw: RawPrograms): Synchronised {
  const needed = neededPrecedences(raw);
  return {
    schedule: schedule(raw, needed),
    set: {
      required: raw.precedences.length,
      afterReduction: needed.length,
      afterResynchronisation: needed.length,
      minimality: 'transitive',
    },
  };
}
