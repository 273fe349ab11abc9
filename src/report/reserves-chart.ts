import type { GeometricPlan, PlanReserve, Stage } from '../model/plan.js';
import type { ChartRow, RowsChart } from './chart-rows.js';
import { reserveText } from './numbers.js';
import { plain } from './plain.js';
import { RESERVE_CAP, RESERVE_STATES, weakestReserve } from './weakest-point.js';

type Plan = Pick<GeometricPlan, 'stages' | 'timeline'>;

/** Second in which a stage begins; undefined where nothing is done in it. */
const beginOf = ({ timeline: { activities } }: Plan, stage: number): number | undefined =>
  activities.filter((activity) => activity.stage === stage).sort((a, b) => a.start - b.start)[0]?.start;

const againstText = (reserve: number, required: number): string =>
  `${reserve >= RESERVE_CAP ? `${RESERVE_CAP} or more` : reserveText(reserve)} (needs ${reserveText(required)})`;

type Held = Pick<PlanReserve, 'reserve' | 'required'>;

const barOf = ({ reserve, required }: Held, label: string): ChartRow => ({
  ...{ label, value: reserve, told: againstText(reserve, required) },
  limits: [{ at: required, role: 'limit' }],
  ...{ bad: reserve < required, open: reserve >= RESERVE_CAP },
});

const LEGEND = [['limit', 'required, for this kind of load']] as const;
const AXIS = `reserve: the factor by which the load may grow; capped at ${RESERVE_CAP}`;

/** The least reserve of every stage against what is required of it. */
export function reservesChart(plan: Plan): RowsChart {
  const rows = plan.stages.flatMap((stage): ChartRow[] => {
    const least = weakestReserve(stage.reserves);
    if (least === undefined) return [];
    const load =
      least.reserve >= RESERVE_CAP ? 'every load' : `${plain(least.case)}, ${RESERVE_STATES[least.state]}`;
    const label = `${stage.number} ${plain(stage.part)}: ${load}`;
    return [{ ...barOf(least, label), pick: `stage:${stage.number}`, at: beginOf(plan, stage.number) }];
  });
  return { axis: AXIS, most: RESERVE_CAP, rows, legend: LEGEND };
}

/** The least reserve of every way in which a part is carried. */
export function carriedChart(plan: Plan): RowsChart {
  const rows = plan.stages.flatMap((stage) =>
    stage.handling.map(({ carried, grip }) => ({
      ...barOf(
        carried,
        `${stage.number} ${plain(stage.part)} on ${plain(grip.gripper)}: ${plain(carried.case)}`,
      ),
      ...{ pick: `stage:${stage.number}`, at: beginOf(plan, stage.number) },
    })),
  );
  return { axis: AXIS, most: RESERVE_CAP, rows, legend: LEGEND };
}

/** For each state of a stage the reserve that is nearest to what is required, in the order of the plan. */
export function leastByState({ reserves }: Pick<Stage, 'reserves'>): readonly PlanReserve[] {
  const states = [...new Set(reserves.map(({ state }) => state))];
  return states.flatMap((state) => weakestReserve(reserves.filter((one) => one.state === state)) ?? []);
}
