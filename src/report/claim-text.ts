import type { Plan, PlanHead, Proof } from '../model/plan.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { amount, counted, duration, listed } from './numbers.js';

type Objective = PlanHead['objective'];

const NAMES: Readonly<Record<ObjectiveTerm, string>> = {
  regrips: 'regrips',
  'tool-changes': 'tool changes',
  distortion: 'distortion',
  time: 'time',
  wishes: 'wishes',
};

/** A term in words: `tool changes`. */
export const termName = (term: ObjectiveTerm): string => NAMES[term];

/** A value of an objective term in words: `1 regrip`, `5 min 13 s`. */
export function termText(term: ObjectiveTerm, value: number): string {
  switch (term) {
    case 'regrips':
      return counted(value, 'regrip');
    case 'tool-changes':
      return counted(value, 'tool change');
    case 'distortion':
      return value === 0
        ? 'no distortion beyond its limits'
        : `${amount(value / 10, 1)} mm of distortion beyond its limits`;
    case 'time':
      return duration(value);
    case 'wishes':
      return value === 0 ? 'no wish broken' : `broken wishes of weight ${amount(value)}`;
  }
}

/** What was looked at, without which a proof says nothing: `the 19 approaches, 1,456 grips, ...`. */
export function scopeText(scope: Proof['scope'], kind: Plan['kind'] = 'geometric'): string {
  const parts = counted(scope.parts, 'part');
  // A weldment without shapes has no candidates but the ways that its file gives; they are counted as grips.
  if (kind === 'abstract') return `the ${counted(scope.grips, 'given way')} of ${parts}`;
  const kinds = [
    counted(scope.approaches, 'approach', 'approaches'),
    counted(scope.grips, 'grip'),
    counted(scope.rests, 'rest'),
    counted(scope.sites, 'tack site'),
  ];
  return `the ${listed(kinds)} considered for ${parts}`;
}

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/** How far the first term without a proof is from its bound. */
function gapText({ term, value, bound }: Objective[number], { bestOf }: Proof): string {
  const best = `${NAMES[term]}: best of ${counted(bestOf, 'complete order')}`;
  if (bound <= 0) return `${best}, with no bound`;
  if (term !== 'time') return `${best}; at least ${termText(term, bound)} are needed`;
  const over = Math.ceil(((value - bound) / bound) * 100 - 1e-9);
  return `${best}, at most ${amount(over)}% above its bound of ${termText(term, bound)}`;
}

function foundText(objective: Objective, proof: Proof, scope: string): string {
  const proved = objective.slice(0, proof.provedTerms.length).map(({ term }) => NAMES[term]);
  const [next, ...rest] = objective.slice(proof.provedTerms.length);
  const sentences = [
    proved.length > 0 ? `${listed(proved)} proved least within ${scope}` : '',
    next ? gapText(next, proof) : '',
    rest.length > 0 ? `${listed(rest.map(({ term }) => NAMES[term]))}: no claim` : '',
  ].filter((text) => text !== '');
  const states = `Searched: ${counted(proof.states, 'state')}`;
  const within = proved.length > 0 ? '' : ` within ${scope}`;
  return `${sentences.map(sentence).join('. ')}. ${states}${within}.`;
}

/** What the search had proved before the tacks of its best order were ordered anew; empty where it changed nothing. */
function beforeText({ beforeReordering: before }: Proof, objective: Objective): string {
  if (before === undefined) return '';
  const changed = before.objective.findIndex(({ value }, i) => value !== objective[i]!.value);
  const { term, value } = before.objective[changed]!;
  const proved = changed < before.provedTerms.length ? ', proved least for tacks in that order' : '';
  const tacks = `the tacks of ${counted(before.stages, 'stage')} were put in an order that distorts less`;
  return ` Before ${tacks}: ${termText(term, value)}${proved}.`;
}

/** What a plan claims about itself, made from its objective and its proof, always with the scope. */
export function claimText({ kind, objective, proof }: Pick<Plan, 'kind' | 'objective' | 'proof'>): string {
  const values = objective.map(({ term, value }) => termText(term, value)).join(', ');
  const policies = proof.policies.length > 0 ? ' and the policies below' : '';
  const scope = `${scopeText(proof.scope, kind)}${policies}`;
  if (proof.outcome === 'optimal') {
    const states = counted(proof.states, 'state');
    return `Optimal: ${values}. Proved over ${states}: no better plan within ${scope}.`;
  }
  return `Best found: ${values}. ${foundText(objective, proof, scope)}${beforeText(proof, objective)}`;
}
