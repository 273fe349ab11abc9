import { solidsOverlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import type { Finding } from '../model/finding.js';
import type { PlanTack } from '../model/plan.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces, type SeamPlace } from './seam-places.js';
import { everyTack, tackListOf, tacksWithWhere, type StatedTack } from './stage-tacks.js';
import { stageViews, type StageView } from './stage-views.js';
import { figureFindings } from './tack-figures.js';
import { seamFindings, type SeamTack } from './tack-layout.js';

const ID = 'tack-rules';

/** Securing tacks come first, and each has its number. */
function orderFindings({ stage, where }: StageView): Finding[] {
  const findings: Finding[] = [];
  const numbers = everyTack(stage)
    .map(({ order }) => order)
    .sort((a, b) => a - b);
  numbers.forEach((number, i) => {
    if (number === i + 1) return;
    const message = `the tacks are numbered ${numbers.join(', ')}, not 1 to ${numbers.length}`;
    if (findings.length === 0)
      findings.push(breach(ID, tackListOf(stage, where), message, { value: number, limit: i + 1 }));
  });
  const orders = (phase: PlanTack['phase']): number[] =>
    stage.tacks.filter((tack) => tack.phase === phase).map(({ order }) => order);
  const lastSecuring = Math.max(0, ...orders('securing'));
  const firstCompleting = Math.min(Infinity, ...orders('completing'));
  if (firstCompleting < lastSecuring)
    findings.push(
      breach(
        ID,
        `${where}.tacks`,
        `completing tack ${firstCompleting} comes before securing tack ${lastSecuring}`,
        {
          value: firstCompleting,
          limit: lastSecuring,
        },
      ),
    );
  return findings;
}

/** The metal of a tack stays clear of every other part in place. */
function beadFindings(
  { scene, settings }: RuleContext,
  view: StageView,
  tack: StatedTack,
  seam: SeamPlace,
  bead: Solid,
  where: string,
): Finding[] {
  return [...view.before, view.part]
    .filter((i) => i !== seam.a && i !== seam.b)
    .filter((i) => solidsOverlap(bead, scene.parts[i]!.solid, settings.motion['touch-tolerance']))
    .map((i) => breach(ID, where, `tack ${tack.id} would run into ${scene.parts[i]!.part.id}`));
}

/** Each tack by itself: its seam known and between the newcomer and what stands. */
function tackFindings(context: RuleContext, seams: SeamPlaces, view: StageView): Finding[] {
  const { plan } = context;
  return tacksWithWhere(view.stage, view.where).flatMap(({ tack, where }) => {
    const joint = plan.joints.find(({ id }) => id === tack.joint);
    if (!joint?.seams.some(({ id }) => id === tack.seam))
      return [breach(ID, `${where}.seam`, `joint ${tack.joint} with seam ${tack.seam} is not in the plan`)];
    const seam = seams.of(tack);
    if (seam === undefined) return [];
    const other = seam.a === view.part ? seam.b : seam.a;
    const joins = (seam.a === view.part || seam.b === view.part) && view.before.includes(other);
    const bead = seams.bead(tack);
    const findings = [
      ...figureFindings(ID, context, { tack, seam, where, heldOn: view.stage.stands === 'held' }),
      ...(bead ? beadFindings(context, view, tack, seam, bead, where) : []),
    ];
    if (!joins) {
      const message = `tack ${tack.id} is not between ${view.stage.part} and a part in place`;
      findings.push(breach(ID, `${where}.joint`, message));
    }
    return findings;
  });
}

function repeatedIds(views: readonly StageView[]): Finding[] {
  const seen = new Set<string>();
  return views.flatMap(({ stage, where }) =>
    tacksWithWhere(stage, where).flatMap(({ tack: { id }, where: at }) => {
      if (!seen.has(id)) {
        seen.add(id);
        return [];
      }
      return [breach(ID, `${at}.id`, `tack ${id} is there twice`)];
    }),
  );
}

function judge(context: RuleContext): Finding[] {
  const seams = new SeamPlaces(context);
  const views = stageViews(context);
  const stageOf = new Map(views.map((view) => [view.part, view]));
  const layouts = seams.all().flatMap((seam) => {
    const [a, b] = [stageOf.get(seam.a), stageOf.get(seam.b)];
    if (a === undefined || b === undefined) return [];
    const view = a.index > b.index ? a : b;
    const own: SeamTack[] = tacksWithWhere(view.stage, view.where).filter(
      ({ tack }) => seams.of(tack) === seam,
    );
    return seamFindings(ID, context, seam, seams.all(), own, tackListOf(view.stage, view.where));
  });
  return [
    ...repeatedIds(views),
    ...views.flatMap((view) => [...orderFindings(view), ...tackFindings(context, seams, view)]),
    ...layouts,
  ];
}

/** Every seam gets the tacks that the rules ask for, when its later part joins. */
export const tackRules: Rule = {
  id: ID,
  forbids:
    'tacks that are too short, too few, too far apart, at the ends of a seam, out of order or falsely rated',
  why: 'tacks must hold the parts until they are welded and not crack, or be in the way, when they are',
  judge,
};
