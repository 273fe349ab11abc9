import type { Finding } from '../model/finding.js';
import { judgedReserves, type JudgedReserve } from './judged-reserves.js';
import { familyOf } from './load-cases.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'reserves-true';

/** A stated reserve may differ by this share and by this amount. */
const TOLERANCE = 1e-3;

function compare(view: StageView, judged: JudgedReserve): Finding[] {
  const { state, family, name, reserve, required } = judged;
  const { reserves } = view.stage;
  const entries = reserves.flatMap((entry, i) =>
    entry.state === state && familyOf(entry.case) === family ? [i] : [],
  );
  if (entries.length !== 1) {
    const message = `${state}: ${entries.length} entries for ${family}; there must be one`;
    return [breach(ID, `${view.where}.reserves`, message, { value: entries.length, limit: 1 })];
  }
  const entry = reserves[entries[0]!]!;
  const where = `${view.where}.reserves[${entries[0]}]`;
  const findings: Finding[] = [];
  if (!(Math.abs(entry.reserve - reserve) <= TOLERANCE * (1 + reserve))) {
    const message = `${state}: ${entry.case} is stated as ${shown(entry.reserve)}, but ${name} has ${shown(reserve)}`;
    findings.push(breach(ID, `${where}.reserve`, message, { value: entry.reserve, limit: reserve }));
  }
  if (Math.abs(entry.required - required) > 1e-9) {
    const message = `${state}: ${shown(entry.required)} is said to be required; the settings ask for ${shown(required)}`;
    findings.push(breach(ID, `${where}.required`, message, { value: entry.required, limit: required }));
  }
  return findings;
}

/** Entries for a state or a load that the stage does not have. */
function surplus(view: StageView, judged: readonly JudgedReserve[]): Finding[] {
  return view.stage.reserves.flatMap((entry, i) => {
    const family = familyOf(entry.case);
    if (judged.some((one) => one.state === entry.state && one.family === family)) return [];
    const message = `${entry.state}: ${entry.case} is no load of this stage`;
    return [breach(ID, `${view.where}.reserves[${i}]`, message)];
  });
}

function judge(context: RuleContext): Finding[] {
  const all = judgedReserves(context);
  return stageViews(context).flatMap((view) => {
    const own = all.filter(({ stage }) => stage.index === view.index);
    // Without the states that could not be judged, nothing can be said to be too much.
    const { manual, stands } = view.stage;
    const last = manual ? 'complete' : stands === 'held' ? 'held' : 'let-go';
    const whole = own.some(({ state }) => state === last) && own.some(({ state }) => state === 'complete');
    return [...own.flatMap((judged) => compare(view, judged)), ...(whole ? surplus(view, own) : [])];
  });
}

/** The reserves that the plan states are those that a cold solve finds, one for each state and family of loads. */
export const reservesTrue: Rule = {
  id: ID,
  forbids: 'stated reserves that are missing, surplus, or differ from those recomputed',
  why: 'whoever reads the plan decides by these numbers',
  judge,
};
