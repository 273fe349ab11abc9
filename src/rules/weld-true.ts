import type { Finding } from '../model/finding.js';
import type { PlanWeld, WeldRun } from '../model/plan.js';
import { replayedStages } from './distortion-replay.js';
import type { DistortionStage } from './distortion-run.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import type { SeamPlace } from './seam-places.js';
import { tackedUp, weldAccount, Welding, weldRuns, weldSeams, WELD_GRAIN, type WeldWay } from './weld-run.js';

const ID = 'weld-true';

/** Figures are rounded: mm or shares, and degrees of a turn. */
const ROUNDING = 0.0021;

type Stretch = readonly [start: number, end: number];

/** What of a seam its runs leave out or lay twice, as words; undefined where they cover it once. */
function cover({ length }: SeamPlace, runs: readonly WeldRun[]): string | undefined {
  const stretches = runs
    .map(({ from, to }): Stretch => [Math.min(from, to), Math.max(from, to)])
    .sort((p, q) => p[0] - q[0]);
  const slack = WELD_GRAIN * (stretches.length + 1);
  let at = 0;
  for (const [start, end] of stretches) {
    if (start > at + slack) return `is not welded from ${shown(at)} to ${shown(start)} mm`;
    if (start < at - slack) return `is welded twice from ${shown(start)} to ${shown(Math.min(at, end))} mm`;
    at = end;
  }
  if (at > length + slack) return `ends at ${shown(length)} mm; a run goes on to ${shown(at)} mm`;
  return at < length - slack ? `is not welded from ${shown(at)} to ${shown(length)} mm` : undefined;
}

/** The first thing that is wrong with an order as an order: unknown seams, and seams not covered once. */
function orderFinding(
  seams: readonly SeamPlace[],
  runs: readonly WeldRun[],
  where: string,
): Finding | undefined {
  const of = (seam: SeamPlace, run: WeldRun): boolean => seam.id === run.seam && seam.joint.id === run.joint;
  const strange = runs.findIndex((run) => !seams.some((seam) => of(seam, run)));
  if (strange >= 0) {
    const message = `${runs[strange]!.seam} is no seam of joint ${runs[strange]!.joint} between parts in place`;
    return breach(ID, `${where}[${strange}]`, message);
  }
  for (const seam of seams) {
    const wrong = cover(
      seam,
      runs.filter((run) => of(seam, run)),
    );
    if (wrong !== undefined) return breach(ID, where, `seam ${seam.id} ${wrong}`);
  }
  return undefined;
}

/** Replays orders of welds after the tack-up of a plan. */
class Replay {
  private readonly start: Welding;
  private readonly inPlace: readonly number[];

  constructor(
    private readonly context: RuleContext,
    private readonly seams: readonly SeamPlace[],
    stages: readonly DistortionStage[],
  ) {
    const { scene, settings } = context;
    this.start = new Welding(scene, settings, tackedUp(context, stages));
    this.inPlace = stages.map(({ part }) => part);
  }

  account(runs: readonly WeldRun[]) {
    const welding = this.start.copy();
    for (const run of runs) {
      const seam = this.seams.find(({ id, joint }) => id === run.seam && joint.id === run.joint)!;
      welding.lay(seam, run);
    }
    return weldAccount(this.context.scene, welding.run, this.inPlace);
  }

  /** The order of the file with each seam laid in one way. */
  habit(way: WeldWay): number {
    return this.account(this.seams.flatMap((seam) => weldRuns(seam, way, this.context.settings))).value;
  }
}

/** Whether two values agree: numbers within rounding, the rest exactly. */
function agree(stated: unknown, found: unknown): boolean {
  if (typeof stated === 'number' && typeof found === 'number') return Math.abs(stated - found) <= ROUNDING;
  if (typeof stated !== 'object' || typeof found !== 'object' || stated === null || found === null)
    return stated === found;
  const keys = Object.keys(found);
  return (
    Object.keys(stated).length === keys.length &&
    keys.every((key) =>
      agree((stated as Record<string, unknown>)[key], (found as Record<string, unknown>)[key]),
    )
  );
}

function valueFindings(stated: PlanWeld, replay: Replay): Finding[] {
  const found = replay.account(stated.runs);
  const pairs: readonly (readonly [where: string, stated: number, found: number])[] = [
    ['value', stated.value, found.value],
    ['habits.file', stated.habits.file, replay.habit('forwards')],
    ['habits.back-step', stated.habits['back-step'], replay.habit('back-step')],
    ['habits.skip', stated.habits.skip, replay.habit('skip')],
    ['worst.value', stated.worst.value, replay.account(stated.worst.runs).value],
  ];
  const values = pairs.flatMap(([where, value, limit]) =>
    Math.abs(value - limit) <= ROUNDING
      ? []
      : [
          breach(ID, `weld.${where}`, `${shown(value)} is stated; the replay gives ${shown(limit)}`, {
            value,
            limit,
          }),
        ],
  );
  const rest = (['measure', 'moved', 'features'] as const)
    .filter((part) => !agree(stated[part], found[part]))
    .map((part) =>
      breach(
        ID,
        `weld.${part}`,
        `what is stated is not what the replay gives: ${JSON.stringify(found[part])}`,
      ),
    );
  return [...values, ...rest];
}

/** Whether the order is what it is said to be: no worse than the habits, and no worse than the worst. */
function claimFindings({ value, habits, worst }: PlanWeld): Finding[] {
  const better = Object.entries(habits).find(([, other]) => value > other + ROUNDING);
  const most = Math.max(value, ...Object.values(habits));
  const finding = (where: string, message: string, own: number, limit: number): Finding =>
    breach(ID, where, message, { value: own, limit });
  return [
    ...(better
      ? [
          finding(
            'weld.runs',
            `the order is said to be the best found; that of ${better[0]} comes to ${shown(better[1])} instead of ${shown(value)}`,
            value,
            better[1],
          ),
        ]
      : []),
    ...(worst.value < most - ROUNDING
      ? [
          finding(
            'weld.worst',
            `the worst order is said to come to ${shown(worst.value)}; one here comes to ${shown(most)}`,
            worst.value,
            most,
          ),
        ]
      : []),
  ];
}

function judge(context: RuleContext): Finding[] {
  const stated = context.plan.weld;
  const stages = stated && replayedStages(context);
  if (stated === undefined || stages === undefined) return [];
  const seams = weldSeams(context, stages);
  const orders = [
    orderFinding(seams, stated.runs, 'weld.runs'),
    orderFinding(seams, stated.worst.runs, 'weld.worst.runs'),
  ].filter((one) => one !== undefined);
  if (orders.length > 0) return orders;
  return seams.length === 0
    ? []
    : [...valueFindings(stated, new Replay(context, seams, stages)), ...claimFindings(stated)];
}

/** The order of the full welds covers each seam once, and comes to what the plan says of it. */
export const weldTrue: Rule = {
  id: ID,
  forbids:
    'an order of the full welds that leaves out a seam or welds it twice, stated figures of it that a replay does not give, and one said to be the best found that is worse than a habit',
  why: 'whoever welds the tack-up by that order judges it by these numbers, and by what the other orders would do',
  judge,
};
