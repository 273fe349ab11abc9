import type { Finding } from '../model/finding.js';
import type { GeometricPlan } from '../model/plan.js';
import { objectiveOf, termValue, type TermValues } from '../model/objective.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { excessTenths } from './distortion-excess.js';
import { breach, type Rule } from './rule.js';
import { weightOf } from './wish-kept.js';

const ID = 'objective-true';

/** Whether the stated terms are those of the settings in their order, and each value is the one counted. */
export function objectiveFindings(
  rule: string,
  stated: GeometricPlan['objective'],
  wanted: readonly ObjectiveTerm[],
  counted: TermValues,
): Finding[] {
  const terms = stated.map(({ term }) => term);
  if (terms.join() !== wanted.join())
    return [
      breach(
        rule,
        'objective',
        `the terms are ${terms.join(', ')}; the settings ask for ${wanted.join(', ')}`,
      ),
    ];
  return stated.flatMap(({ term, value }, i) => {
    const limit = termValue(counted, term);
    if (value === limit) return [];
    const message = `${term} is stated as ${value}; the plan has ${limit}`;
    return [breach(rule, `objective[${i}].value`, message, { value, limit })];
  });
}

/** Seconds as the objective counts them: tenths, rounded up, a last bit aside. */
export const tenths = (seconds: number): number => Math.max(0, Math.ceil(seconds * 10 - 1e-6));

/** What a plan with shapes costs by all that it says itself, whatever its objective: term by term, time in tenths of a second. */
export const countedTerms = ({
  stages,
  programs,
  distortion,
  timeline,
  wishes,
}: Pick<GeometricPlan, 'stages' | 'programs' | 'distortion' | 'timeline' | 'wishes'>): TermValues => ({
  regrips: stages.reduce((sum, { handling }) => sum + Math.max(0, handling.length - 1), 0),
  'tool-changes': programs.flatMap(({ steps }) => steps).filter((step) => step.do === 'change-gripper')
    .length,
  distortion: excessTenths(distortion.features),
  time: tenths(timeline.makespan),
  wishes: brokenWeight({ wishes }),
});

/** The weights of the soft wishes that a plan says it breaks. */
export const brokenWeight = ({ wishes }: Pick<GeometricPlan, 'wishes'>): number =>
  weightOf((wishes ?? []).flatMap(({ wish, kept }) => (kept ? [] : [wish])));

/** Regrips in its stages, changes in its programs, tolerances beyond their limits, the makespan of its timeline. */
export const objectiveTrue: Rule = {
  id: ID,
  forbids: 'objective terms in another order than asked for, or values other than the plan itself has',
  why: 'plans are compared by these values',
  judge: ({ plan, weldment, settings }) =>
    objectiveFindings(ID, plan.objective, objectiveOf(weldment, settings), countedTerms(plan)),
};
