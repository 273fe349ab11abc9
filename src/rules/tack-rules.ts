import { pointSolidDistance } from '../geometry/distance.js';
import { solidsOverlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { along } from '../geometry/vector.js';
import { shearStrength, temporaryStrength, throat, type WeldSteel } from '../mechanics/tack-strength.js';
import type { Finding } from '../model/finding.js';
import type { PlanTack } from '../model/plan.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces, type SeamPlace } from './seam-places.js';
import { everyTack, tackListOf, tacksWithWhere, type StatedTack } from './stage-tacks.js';
import { stageViews, type StageView } from './stage-views.js';
import { seamFindings, type SeamTack } from './tack-layout.js';

const ID = 'tack-rules';

/** Legs and lengths are rounded, mm; strengths may differ by this share. */
const ROUNDING = 0.01;
const STRENGTH_SHARE = 1e-3;
/** The temporary-strength model is asked cold; the settings' reduction covers hot metal, C. */
const COLD = 20;

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

/** The steel with the lower design strength; undefined when that of either part is not known. */
function weaker({ scene }: RuleContext, seam: SeamPlace): WeldSteel | undefined {
  const [a, b] = [seam.a, seam.b].map((i) => scene.parts[i]!.part.material.steel);
  if (a === undefined || b === undefined) return undefined;
  return shearStrength(a) <= shearStrength(b) ? a : b;
}

/** Gap that the root of a seam has to bridge: its middle lies on one of the parts, this far from the other. */
function rootGap({ scene }: RuleContext, seam: SeamPlace): number {
  const middle = along(seam.from, seam.along, seam.length / 2);
  return Math.max(...[seam.a, seam.b].map((i) => pointSolidDistance(middle, scene.parts[i]!.solid)));
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

/** Leg and strength of one tack. */
function sizeFindings(context: RuleContext, tack: StatedTack, seam: SeamPlace, where: string): Finding[] {
  const findings: Finding[] = [];
  const leg = Math.min(context.settings.tacks.leg, seam.joint.leg);
  if (Math.abs(tack.leg - leg) > ROUNDING)
    findings.push(
      breach(
        ID,
        `${where}.leg`,
        `tack ${tack.id} has a leg of ${shown(tack.leg)} mm instead of ${shown(leg)}`,
        {
          value: tack.leg,
          limit: leg,
        },
      ),
    );
  const steel = weaker(context, seam);
  if (steel === undefined) {
    const names = seam.joint.between.join(' and ');
    return [...findings, breach(ID, where, `the strength of a tack between ${names} is not known`)];
  }
  const strength = temporaryStrength(tack.length, throat(leg, rootGap(context, seam)), steel, COLD);
  if (Math.abs(tack.strength - strength) > STRENGTH_SHARE * (1 + strength))
    findings.push(
      breach(
        ID,
        `${where}.strength`,
        `tack ${tack.id} is said to carry ${shown(tack.strength)} N; the model gives ${shown(strength)}`,
        { value: tack.strength, limit: strength },
      ),
    );
  return findings;
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
      ...sizeFindings(context, tack, seam, where),
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
    return seamFindings(ID, context, seam, own, tackListOf(view.stage, view.where));
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
