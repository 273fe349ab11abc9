import { Graph } from '@dagrejs/graphlib';
import type { EventRef } from '../algorithms/concurrent-program.js';
import { transitiveReduction } from '../algorithms/digraph.js';
import { resynchronise } from '../algorithms/resynchronise.js';
import type { HandshakeSet } from '../model/plan.js';
import { durationsOf, eventAt, type Precedence, type ProgramPoint, type RawPrograms } from './programs.js';
import { schedule, type Schedule } from './schedule.js';

/** Most merged sets of waits that are tried for two robots. */
const MOST_TRIALS = 5000;

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

/** A precedence for each that is left after merging, and what may be said of their number. */
function resynchronised(
  { programs }: RawPrograms,
  needed: readonly Precedence[],
): { readonly precedences: readonly Precedence[]; readonly minimality: HandshakeSet['minimality'] } {
  const point = ({ program, event: index }: EventRef): ProgramPoint => ({ robot: program, index });
  const { crossings, minimality } = resynchronise(
    durationsOf(programs),
    needed.map(({ from, to }) => ({ from: eventAt(from), to: eventAt(to) })),
    MOST_TRIALS,
  );
  const precedences = crossings.map(({ from, to, carries }): Precedence => {
    const [first, ...others] = carries.map((i) => needed[i]!);
    if (others.length === 0) return first!;
    const merged = together([first!, ...others]);
    const names = [first!, ...others].map(({ name }) => name);
    return { ...merged, from: point(from), to: point(to), name: joined(names), carries: names };
  });
  return { precedences, minimality };
}

const joined = ([first, second, ...more]: readonly string[]): string =>
  `${first}-and-${more.length === 0 ? second : `${more.length + 1}-more`}`;

/** A schedule with the handshakes that are left, and how many there were. */
export interface Synchronised {
  readonly schedule: Schedule;
  readonly set: Omit<HandshakeSet, 'protocol'>;
}

/**
 * The schedule of finished programs with as few handshakes as are found for its makespan. Waits are merged into waits
 * that are there already, so that no robot stands where the arms were not asked about; that it waits longer there only
 * takes away from what can be at the same time.
 */
export function synchronised(raw: RawPrograms): Synchronised {
  const needed = neededPrecedences(raw);
  const { precedences, minimality } = resynchronised(raw, needed);
  return {
    schedule: schedule(raw, precedences),
    set: {
      required: raw.precedences.length,
      afterReduction: needed.length,
      afterResynchronisation: precedences.length,
      minimality,
    },
  };
}
