import type { Facts } from '../facts/facts.js';
import { siteId, type TackSite } from '../facts/tack-sites.js';
import type { GeometricPlan, Stage } from '../model/plan.js';
import { demandOf, type MoreAsked, type StageWish } from './demand.js';
import type { TackAsk } from './tack-ask.js';

/** A way to build that a planning run is to begin with, as far as it is legal. */
export interface StartWay {
  /** Parts in their order; those that are not named come after these. */
  readonly order: readonly string[];
  readonly stages: readonly StartStage[];
}

/** How the stage of a part shall be where that can be had. */
export interface StartStage {
  readonly part: string;
  /** Index angle of the work table, degrees. */
  readonly angle: number;
  readonly wishes: readonly StageWish[];
  /** The tack sites of an earlier plan; undefined where these are left open. */
  readonly sites?: ReadonlySet<string> | undefined;
}

const HARD = { never: false, soft: false, weight: 1 } as const;

/** A plan as a way to begin with: its parts in its order, each by the grip, with the hold and at the sites that it had. */
export const wayOfPlan = ({ stages }: GeometricPlan): StartWay => ({
  order: stages.map(({ part }) => part),
  stages: stages.map(stageAsBefore),
});

function stageAsBefore({ part, robot, turn = 0, handling, held, tacks }: Stage): StartStage {
  const grip = handling.at(-1)?.grip;
  if (grip === undefined || robot === null) return { part, angle: turn, wishes: [] };
  return {
    ...{ part, angle: turn },
    wishes: [
      { ...HARD, grip: part, robot, gripper: grip.gripper, face: grip.face, position: grip.position },
      { ...HARD, regrips: part, most: handling.length - 1 },
      { ...HARD, held: part, never: held === null },
    ],
    sites: new Set(tacks.map(({ seam, start }) => `${seam}@${start}`)),
  };
}

/** What a stage asks for beside what must be met, but for that about which something must be met; undefined for nothing. */
export function moreAsked(facts: Facts, { wishes, sites }: StartStage): MoreAsked | undefined {
  if (wishes.length === 0) return undefined;
  const asHad = sites && atSites(sites);
  return (must) => {
    const kinds = new Set(must.wishes.flatMap((wish) => KINDS.filter((kind) => kind in wish)));
    const kept = wishes.filter((wish) => !KINDS.some((kind) => kind in wish && kinds.has(kind)));
    return { ...demandOf(facts, [...must.wishes, ...kept]), tacks: must.tacks ?? asHad };
  };
}

const KINDS = ['grip', 'regrips', 'held'] as const;

const atSites = (sites: ReadonlySet<string>): TackAsk => ({
  key: `as before ${[...sites].sort().join(' ')}`,
  allows: (site: TackSite) => sites.has(siteId(site)),
  wished: [],
});
