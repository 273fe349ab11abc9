import { digest } from '../io/digest.js';
import { DEFAULT_SETTINGS, withoutShapes, type Settings } from '../model/settings.js';
import type { AbstractWeldment, Weldment } from '../model/weldment.js';
import { partIds } from '../planning/abstract-facts.js';
import { AbstractProblem } from '../planning/abstract-problem.js';
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
  const objective = withoutShapes(settings.objective);
  const ids = partIds(weldment);
  return {
    kind: 'abstract',
    name: weldment.name,
    digest: digestOf({ weldmentDigest, cellDigest: '' }, settings),
    parts: ids.length,
    terms: objective,
    problem: (moves = 'needed') => new AbstractProblem(weldment, objective, moves),
    order: (moves) => {
      const numbered = new AbstractProblem(weldment, objective);
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
  terms: inputs.settings.objective,
  plan: (options) => planSession(sources, options),
});
