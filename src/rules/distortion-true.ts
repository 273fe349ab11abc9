import type { Finding } from '../model/finding.js';
import type { PlanDistortion, StageDistortion } from '../model/plan.js';
import type { DistortionAccount } from './distortion-account.js';
import { judgedDistortion } from './distortion-replay.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'distortion-true';

/** Figures are rounded: mm, and degrees of a turn. */
const ROUNDING = 0.0021;
const TURN_ROUNDING = 0.00021;

type Motions = Map<string, { readonly move: readonly number[]; readonly turn: readonly number[] }>;

const STILL = { move: [0, 0, 0], turn: [0, 0, 0] };

/** By how much two vectors differ in any direction. */
const apart = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((value, i) => Math.abs(value - b[i]!)));

/** The first part that two accounts have in different places, with what to say of it. */
function elsewhere(stated: Motions, found: Motions): string | undefined {
  for (const part of new Set([...stated.keys(), ...found.keys()])) {
    const [one, other] = [stated.get(part) ?? STILL, found.get(part) ?? STILL];
    const shift = apart(one.move, other.move);
    if (!(shift <= ROUNDING))
      return `${part} is stated to have moved by (${one.move.join(', ')}) mm; the replay gives (${other.move.join(', ')})`;
    if (!(apart(one.turn, other.turn) <= TURN_ROUNDING))
      return `${part} is stated to have turned by (${one.turn.join(', ')}) degrees; the replay gives (${other.turn.join(', ')})`;
  }
  return undefined;
}

/** Keeps where all parts are, in two accounts, over the stages. */
class Comparison {
  private readonly stated: Motions = new Map();
  private readonly found: Motions = new Map();

  /** The first thing of each kind that a stage states wrongly. */
  stage(view: StageView, found: StageDistortion): Finding[] {
    const { steps } = view.stage.distortion;
    const where = `${view.where}.distortion`;
    const names = (one: StageDistortion): string => one.steps.map(({ after }) => after).join('\n');
    const findings = openingFindings(view, found);
    if (names(view.stage.distortion) !== names(found)) {
      const message = `the steps after which parts move are not those of the stage: ${found.steps.map(({ after }) => after).join(', ')}`;
      return [...findings, breach(ID, `${where}.steps`, message)];
    }
    let wrong: Finding | undefined;
    found.steps.forEach(({ after, moved }, i) => {
      for (const one of moved) this.found.set(one.part, one);
      for (const one of steps[i]!.moved) this.stated.set(one.part, one);
      const message = elsewhere(this.stated, this.found);
      if (message !== undefined) wrong ??= breach(ID, `${where}.steps[${i}]`, `after ${after} ${message}`);
    });
    return wrong ? [...findings, wrong] : findings;
  }
}

function openingFindings(view: StageView, { openings }: StageDistortion): Finding[] {
  const stated = view.stage.distortion.openings;
  const where = `${view.where}.distortion.openings`;
  if (stated.map(({ tack }) => tack).join('\n') !== openings.map(({ tack }) => tack).join('\n'))
    return [breach(ID, where, 'the gaps are not those before the tacks of the stage, in their order')];
  const i = openings.findIndex(({ before }, n) => !(Math.abs(stated[n]!.before - before) <= ROUNDING));
  if (i < 0) return [];
  const { tack, before } = openings[i]!;
  const message = `the seam of tack ${tack} is stated to stand open by ${shown(stated[i]!.before)} mm; the replay gives ${shown(before)}`;
  return [breach(ID, `${where}[${i}]`, message, { value: stated[i]!.before, limit: before })];
}

/** Whether two lists agree: the numbers within rounding, the rest exactly. */
function agree(stated: unknown, found: unknown): boolean {
  if (typeof stated === 'number' && typeof found === 'number') return Math.abs(stated - found) <= ROUNDING;
  if (typeof stated !== 'object' || typeof found !== 'object' || stated === null || found === null)
    return stated === found;
  const [one, other] = [Object.entries(stated), Object.entries(found)];
  return (
    one.length === other.length &&
    one.every(([key, value]) => agree(value, (found as Record<string, unknown>)[key]))
  );
}

const PARTS = ['features', 'bows', 'worst'] as const satisfies readonly (keyof PlanDistortion)[];

function planFindings(context: RuleContext, found: DistortionAccount): Finding[] {
  const { plan, settings } = context;
  const wrong = PARTS.filter((part) => !agree(plan.distortion[part], found[part])).map((part) =>
    breach(
      ID,
      `distortion.${part}`,
      `what is stated is not what the replay gives: ${JSON.stringify(found[part])}`,
    ),
  );
  const { transverse, longitudinal, angular } = settings.distortion;
  const factors = agree(plan.distortion.factors, { transverse, longitudinal, angular });
  return factors
    ? wrong
    : [...wrong, breach(ID, 'distortion.factors', 'the factors are not those of the settings')];
}

function judge(context: RuleContext): Finding[] {
  const account = judgedDistortion(context);
  if (account === undefined) return [];
  const comparison = new Comparison();
  return [
    ...stageViews(context).flatMap((view, i) => comparison.stage(view, account.stages[i]!)),
    ...planFindings(context, account),
  ];
}

/** The distortion that the plan states is what a replay of its stages comes to. */
export const distortionTrue: Rule = {
  id: ID,
  forbids: 'stated movements, openings, deviations or bows that differ from those of a replay of the plan',
  why: 'whoever reads the plan judges the weldment by these numbers',
  judge,
};
