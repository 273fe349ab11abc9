import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import type { ObjectiveTerm } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { orderingByMiniZinc, weldmentByMiniZinc } from './minizinc.js';
import { loadHighs, type Highs } from './mixed-integer.js';
import { orderingByArcs } from './ordering-arcs.js';
import { orderingModel, type OrderFound, type OrderingModel } from './ordering-model.js';
import { orderingByPositions } from './ordering-positions.js';
import { weldmentByArcs } from './weldment-arcs.js';
import { choicesOf, weldmentModel, type Choice, type WeldmentModel } from './weldment-model.js';
import { weldmentByPositions, type StagesFound } from './weldment-positions.js';

/** What one who solves an instance says of it. */
export type Answer<Plan> =
  | { readonly status: 'optimal'; readonly plan: Plan; readonly firstAfter: number }
  | { readonly status: 'infeasible' | 'out of time' };

/** Somebody who solves both kinds of instances; reading the instance into a model of its own is part of it. */
export interface Contestant {
  weldment(
    weldment: AbstractWeldment,
    objective: readonly ObjectiveTerm[],
    patience: number,
  ): Answer<readonly Choice[]>;
  ordering(instance: SequentialOrdering, patience: number): Answer<readonly number[]>;
}

export const PEERS = ['positions', 'arcs', 'minizinc'] as const;
export type PeerName = (typeof PEERS)[number];

/** A peer with its engine loaded; MiniZinc, which must be installed, loads its own with each instance. */
export async function loadPeer(name: PeerName): Promise<Contestant> {
  if (name === 'minizinc') return peer(weldmentByMiniZinc, orderingByMiniZinc);
  const highs = await loadHighs();
  return name === 'positions'
    ? peer(withEngine(highs, weldmentByPositions), withEngine(highs, orderingByPositions))
    : peer(withEngine(highs, weldmentByArcs), withEngine(highs, orderingByArcs));
}

const withEngine =
  <Model, Found>(highs: Highs, solve: (model: Model, highs: Highs, patience: number) => Found) =>
  (model: Model, patience: number): Found =>
    solve(model, highs, patience);

function peer(
  byStages: (model: WeldmentModel, patience: number) => StagesFound,
  byOrder: (model: OrderingModel, patience: number) => OrderFound,
): Contestant {
  return {
    weldment: (weldment, objective, patience) => {
      const model = weldmentModel(weldment, objective);
      if (model === undefined) return { status: 'infeasible' };
      const found = byStages(model, patience);
      if (found.status !== 'optimal') return found;
      return { ...found, plan: choicesOf(model, found.stages) };
    },
    ordering: (instance, patience) => {
      const model = orderingModel(instance);
      if (model === undefined) return { status: 'infeasible' };
      const found = byOrder(model, patience);
      return found.status === 'optimal' ? { ...found, plan: found.order } : found;
    },
  };
}
