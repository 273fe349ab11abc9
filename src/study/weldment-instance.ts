import { digest } from '../io/digest.js';
import { objectiveOf } from '../model/objective.js';
import { DEFAULT_SETTINGS, type Settings } from '../model/settings.js';
import type { AbstractWeldment, Weldment } from '../model/weldment.js';
import { partIds } from '../planning/abstract-facts.js';
import { abstractObjective, abstractProblem } from '../planning/abstract-plan.js';
import { readInputs, type Inputs, type Sources } from '../session/inputs.js';
import { planSession } from '../session/plan.js';
import type { InstanceReading, PackedInstance, PlannedInstance } from './instance.js';
import { judgeAbstract } from './judge-abstract.js';

/** A weldment as an instance: one without shapes for any solver, one with shapes, which needs a cell, for the planner. */
export function weldmentInstance(sources: Sources): InstanceReading {
  const { inputs, issues } = readInputs(sources);
  if (inputs === undefined) return { value: undefined, issues };
  const { weldment } = inputs;
  const value =
    weldment.kind === 'abstract' ? abstract(weldment, inputs) : geometric(weldment, inputs, sources);
  return { value, issues };
}

/** Everything that the result depends on; limits and seed are those of the study. */
const digestOf = (
  { weldmentDigest, cellDigest }: Pick<Inputs, 'weldmentDigest' | 'cellDigest'>,
  settings: Settings,
): string => {
  const { budget, seed } = DEFAULT_SETTINGS;
  return digest({ weldment: weldmentDigest, cell: cellDigest, settings: { ...settings, budget, seed } });
};

function abstract(weldment: AbstractWeldment, { settings, weldmentDigest }: Inputs): PackedInstance {
  const objective = abstractObjective(weldment, settings);
  const ids = partIds(weldment);
  return {
    kind: 'abstract',
    name: weldment.name,
    digest: digestOf({ weldmentDigest, cellDigest: '' }, settings),
    parts: ids.length,
    terms: objective,
    problem: (moves = 'needed') => abstractProblem(weldment, settings, moves),
    order: (moves) => {
      const numbered = abstractProblem(weldment, settings, 'all');
      return moves.map((move) => ids[numbered.itemOf(move)]!);
    },
    judge: (order) => judgeAbstract(weldment, settings, order),
  };
}

const geometric = (weldment: Weldment, inputs: Inputs, sources: Sources): PlannedInstance => ({
  kind: 'weldment',
  name: weldment.name,
  digest: digestOf(inputs, inputs.settings),
  parts: weldment.parts.length,
  terms: objectiveOf(weldment, inputs.settings),
  plan: (options) => planSession(sources, options),
});
