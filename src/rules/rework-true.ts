import type { Finding } from '../model/finding.js';
import type { GeometricPlan, PlanTack, Stage } from '../model/plan.js';
import { beadFindings } from './approach-free.js';
import { magnetDistance } from './magnet-distance.js';
import { reach } from './reach.js';
import { reworkStepFindings } from './rework-steps.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { stageViews } from './stage-views.js';
import { tackRules } from './tack-rules.js';
import { torchAccess } from './torch-access.js';
import { weldingPositionTrue } from './welding-position.js';

const ID = 'rework-true';

/** Positions in a plan are rounded, mm. */
const ROUNDING = 0.05;

/** A tack that is laid instead of another, and where it is stated. */
interface Alternative {
  readonly bad: PlanTack | undefined;
  readonly tack: PlanTack;
  readonly where: string;
}

const alternativesOf = ({ tacks, rework }: Stage, where: string): readonly Alternative[] =>
  rework.flatMap(({ instead, tack }, i) =>
    tack === null
      ? []
      : [{ tack, where: `${where}.rework[${i}].tack`, bad: tacks.find(({ id }) => id === instead) }],
  );

/** One entry for each tack, in their order, with another tack or the reason why there is none. */
function listFindings({ plan }: RuleContext): Finding[] {
  return plan.stages.flatMap(({ part, tacks, rework }, i) => {
    const where = `stages[${i}].rework`;
    const [asked, told] = [tacks.map(({ id }) => id), rework.map(({ instead }) => instead)];
    if (asked.join('\n') !== told.join('\n')) {
      const message = `a bad tack of ${part} is spoken of for ${told.join(', ') || 'none'}; its tacks are ${asked.join(', ') || 'none'}`;
      return [breach(ID, where, message, { value: told.length, limit: asked.length })];
    }
    return rework.flatMap(({ instead, tack, none }, k) => {
      if ((tack === null) === (none !== undefined)) return [];
      const message = `for tack ${instead} ${tack ? 'another site and a reason against one are' : 'neither another site nor a reason against one is'} given`;
      return [breach(ID, `${where}[${k}]`, message)];
    });
  });
}

/** It is on the same seam as the bad one, of its phase, and keeps its distance from every tack and every other alternative. */
function placeFindings({ settings }: RuleContext, stage: Stage, all: readonly Alternative[]): Finding[] {
  const gap = settings.tacks['rework-gap'];
  const each = [...stage.tacks, ...all.map(({ tack }) => tack)];
  return all.flatMap(({ bad, tack, where }) => {
    const same =
      bad === undefined ||
      (['joint', 'seam', 'order', 'phase'] as const).every((key) => bad[key] === tack[key]);
    const findings = same
      ? []
      : [breach(ID, where, `tack ${tack.id} is not on the seam, or not at the time, of the tack ${bad.id}`)];
    const near = each
      .filter((one) => one !== tack && one.joint === tack.joint && one.seam === tack.seam)
      .map((one) => ({
        one,
        apart: Math.max(tack.start - one.start - one.length, one.start - tack.start - tack.length),
      }))
      .filter(({ apart }) => apart < gap - ROUNDING)
      .map(({ one, apart }) => {
        const message = `tack ${tack.id}, laid instead of a bad one, is ${shown(apart)} mm from tack ${one.id}; ${shown(gap)} is asked for`;
        return breach(ID, `${where}.start`, message, { value: apart, limit: gap });
      });
    return [...findings, ...near];
  });
}

/** A plan with other tacks in its stages, and nothing in its programs. */
const withTacks = (plan: GeometricPlan, tacksOf: (stage: Stage) => PlanTack[]): GeometricPlan => ({
  ...plan,
  programs: [],
  stages: plan.stages.map((stage) => ({ ...stage, tacks: tacksOf(stage) })),
});

const otherTacks = ({ rework }: Stage): PlanTack[] => rework.flatMap(({ tack }) => tack ?? []);

/** All tacks with all alternatives, numbered again. */
const bothKinds = (stage: Stage): PlanTack[] =>
  [...stage.tacks, ...otherTacks(stage)]
    .sort((a, b) => Number(a.phase === 'completing') - Number(b.phase === 'completing') || a.order - b.order)
    .map((tack, i) => ({ ...tack, order: i + 1 }));

/** What other rules say of a plan changed so that they see the alternatives, as findings about these. */
function borrowed(
  rules: readonly Rule[],
  context: RuleContext,
  changed: GeometricPlan,
  whereOf: ReadonlyMap<string, string>,
): Finding[] {
  const known = (where: string): string | undefined => {
    const [, stage, tack] = /^stages\[(\d+)\]\.tacks\[(\d+)\]/.exec(where) ?? [];
    const id = changed.stages[Number(stage)]?.tacks[Number(tack)]?.id;
    return id === undefined ? undefined : whereOf.get(id);
  };
  return rules
    .flatMap((rule) => rule.judge({ ...context, plan: changed }))
    .flatMap((finding) => {
      const where = known(finding.where);
      return where === undefined ? [] : [{ ...finding, rule: ID, where }];
    });
}

function judge(context: RuleContext): Finding[] {
  const { plan } = context;
  const all = plan.stages.map((stage, i) => alternativesOf(stage, `stages[${i}]`));
  const whereOf = new Map(all.flat().map(({ tack, where }) => [tack.id, where]));
  const seams = new SeamPlaces(context);
  const alone = withTacks(plan, otherTacks);
  const reachable = {
    ...alone,
    stages: alone.stages.map((stage) => ({ ...stage, handling: [], alsoHeld: undefined })),
  };
  return [
    ...listFindings(context),
    ...plan.stages.flatMap((stage, i) => placeFindings(context, stage, all[i]!)),
    ...borrowed([tackRules], context, withTacks(plan, bothKinds), whereOf),
    ...borrowed([torchAccess, weldingPositionTrue, magnetDistance], context, alone, whereOf),
    ...borrowed([reach], context, reachable, whereOf),
    ...stageViews(context).flatMap((view) =>
      beadFindings(
        context,
        view,
        all
          .slice(0, view.index)
          .flat()
          .map(({ tack }) => tack),
        seams,
      ).map((finding) => ({ ...finding, rule: ID })),
    ),
    ...reworkStepFindings(ID, context),
  ];
}

/**
 * A tack that is reported bad is repeated at the stated site of its seam, which is as legal as any tack while what was
 * held is held, and the torch comes back to where it was; or the plan says why there is no such site. The steps for it
 * hold no signal, no zone and no let-go, so whoever holds keeps holding. Arms are judged by arms-clear.
 */
export const reworkTrue: Rule = {
  id: ID,
  forbids:
    'a bad tack that nothing is said of, or that is repeated where a tack may not be, by steps that lead elsewhere',
  why: 'a branch that is run once a month is the one that nobody has tried',
  judge,
};
