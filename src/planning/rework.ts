import { setOf, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Route } from '../facts/routes.js';
import { siteId, type TackSite } from '../facts/tack-sites.js';
import type { TorchMotion } from '../facts/torch-motion.js';
import type { PlanRework } from '../model/plan.js';
import type { CompleteOrder } from './complete.js';
import { armsOf } from './held-grip.js';
import { ReworkRoom } from './rework-room.js';
import type { Schedule } from './schedule.js';
import { holdsOf, type RobotDraft, type StageDraft, type StageTack } from './stage-draft.js';
import { StepWriter, type StepDraft } from './steps.js';
import { TackLayouts } from './tack-layout.js';

/** What is done when a tack is reported bad: it is repeated at another site by these steps; or why there is none. */
export interface Rework {
  readonly instead: StageTack;
  readonly other: { readonly tack: StageTack; readonly steps: readonly StepDraft[] } | undefined;
  readonly none: PlanRework['none'];
}

/** A stage, with the parts in place when its tacks are laid. */
interface Moment {
  /** At its index angle. */
  readonly facts: Facts;
  readonly draft: RobotDraft;
  readonly number: number;
  readonly present: PartSet;
  readonly later: readonly StageDraft[];
}

/** A stretch of a seam that metal is on, or may be. */
interface Taken {
  readonly seam: string;
  readonly start: number;
  readonly length: number;
}

/**
 * For each tack of each stage the nearest other site of its seam, with the steps that lay a tack there and lead back to
 * where the torch was. Everybody else stays where the nominal programs let them be: whoever holds keeps holding. No two
 * tacks share a site, so that several may be bad.
 */
export function reworkOf(
  facts: Facts,
  order: CompleteOrder,
  { programs }: Schedule,
): readonly (readonly Rework[])[] {
  const room = new ReworkRoom(facts, programs, order.raw.programs);
  return order.stages.map((draft, i) => {
    // A person sees at once whether a tack is bad.
    if (draft.manual) return [];
    const present = setOf(
      facts.scene.parts.length,
      order.stages.slice(0, i + 1).map(({ part }) => part),
    );
    const own = facts.at(draft.angle);
    return stageRework(
      { facts: own, draft, number: i + 1, present, later: order.stages.slice(i + 1) },
      new TackLayouts(own),
      room,
    );
  });
}

function stageRework(moment: Moment, layouts: TackLayouts, room: ReworkRoom): readonly Rework[] {
  const { tacks } = moment.draft;
  const taken = tacks.map(({ site }) => takenBy(site));
  return tacks.map((tack): Rework => {
    const sites = otherSites(moment, tack, taken);
    let none: Rework['none'] = 'no-site';
    for (const site of sites) {
      const found = repeated(moment, layouts, tack, site);
      if (typeof found !== 'string' && room.take(tack, found.steps)) {
        taken.push(takenBy(site));
        return { instead: tack, other: found, none: undefined };
      }
      none = farther(none, typeof found === 'string' ? found : 'arm-meets');
    }
    return { instead: tack, other: undefined, none };
  });
}

const REASONS: readonly Rework['none'][] = ['no-site', 'torch-blocked', 'no-way', 'arm-meets'];

/** The reason that came up later, after more had been found right. */
const farther = (a: Rework['none'], b: Rework['none']): Rework['none'] =>
  REASONS.indexOf(b) > REASONS.indexOf(a) ? b : a;

const takenBy = ({ seam, start, length }: TackSite): Taken => ({ seam: seam.id, start, length });

/** Sites of the seam of a tack that keep their distance from all that is on it and out of the way of later parts, nearest first. */
function otherSites(
  { facts, later }: Moment,
  { motion: { robot }, site: { joint, seam, start } }: StageTack,
  taken: readonly Taken[],
): readonly TackSite[] {
  const gap = facts.settings.tacks['rework-gap'];
  const isFree = (site: TackSite): boolean =>
    taken
      .filter((one) => one.seam === seam.id)
      .every(
        (one) => site.start >= one.start + one.length + gap || site.start + site.length + gap <= one.start,
      );
  const inTheWay = (site: TackSite): boolean =>
    later.some(
      (draft) => !draft.manual && facts.at(draft.angle).meetsBead(draft.part, draft.way.approach, site),
    );
  return facts
    .sites(joint, seam, robot)
    .filter((site) => isFree(site) && !inTheWay(site))
    .sort((a, b) => Math.abs(a.start - start) - Math.abs(b.start - start) || a.start - b.start);
}

/** The place beside a tack to which its last stroke led, as one from which the tack might begin. */
const beside = (motion: TorchMotion): TorchMotion => ({ ...motion, clear: motion.leave, start: motion.end });

/** The tack at another site, with the steps there and back; or what is against it. */
function repeated(
  { facts, draft, number, present }: Moment,
  layouts: TackLayouts,
  bad: StageTack,
  site: TackSite,
): NonNullable<Rework['other']> | 'torch-blocked' | 'no-way' {
  const holds = bad.phase === 'securing' ? holdsOf(draft) : [];
  const { robot } = bad.motion;
  const laid = layouts.alone(robot, site, present, holds);
  if (laid === undefined) return 'torch-blocked';
  const arms = armsOf(facts, holds);
  const clear = (from: TorchMotion, to: TorchMotion): Route | undefined =>
    facts.betweenTacks(from, to).first(present, arms);
  const [out, back] = [clear(bad.motion, laid.motion), clear(laid.motion, beside(bad.motion))];
  if (out === undefined || back === undefined) return 'no-way';
  const { order, phase } = bad;
  const tack = { ...laid.tack, id: siteId(site), order, phase, motion: laid.motion };
  const { cell } = facts.scene;
  const welder = cell.welders.find(({ id }) => id === robot)!;
  const steps = new StepWriter(welder, number, bad.motion.leave)
    .along(out, `before ${tack.id}`)
    .tack(tack.id, tack.motion, tack.length, facts.settings.motion['torch-stroke'], cell, undefined)
    .accept(tack.id, cell.times.accept)
    .along(back, `clear of ${bad.id}`).steps;
  return { tack, steps };
}
