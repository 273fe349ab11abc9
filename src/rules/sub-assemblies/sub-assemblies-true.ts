import type { Finding } from '../../model/finding.js';
import { groupShape } from '../../model/group-part.js';
import { restPlanes } from '../../model/part-rests.js';
import type { PlanSubAssembly } from '../../model/plan.js';
import type { PlanWhole } from '../../model/plan-whole.js';
import type { Settings } from '../../model/settings.js';
import { MEMBERS_WITHIN, type SubAssembly } from '../../model/sub-assembly.js';
import type { Weldment } from '../../model/weldment.js';
import { breach, shown, type RuleWords } from '../rule.js';
import type { SplitContext, WholePlan } from './split-context.js';

/** Judged before anything else of a plan with sub-assemblies: without it nothing can be taken apart. */
export const SUB_ASSEMBLIES_TRUE: RuleWords = {
  id: 'sub-assemblies-true',
  forbids:
    'sub-assemblies that are not those the weldment asks for, that share a part, take parts that are not there, set by hand or of other magnetic material, or all of them; plans of them for another weldment, cell or settings; and a word on who asked for them that the weldment file does not bear out',
  why: 'a part is tacked once, in one sub-assembly or in the weldment, and each plan is judged for what it states to be for',
};

const ID = SUB_ASSEMBLIES_TRUE.id;

const listed = (parts: readonly string[]): string => [...parts].sort().join(', ');

/** What sub-assemblies are made of: each as asked for, of parts that are there, once each, not of all. */
export function partsFindings({ weldment, plan }: Pick<WholePlan, 'weldment' | 'plan'>): Finding[] {
  const groups = plan.subAssemblies ?? [];
  const taken = new Map<string, string>();
  const names = new Set<string>();
  const findings = askedFindings(weldment, groups);
  groups.forEach((group, i) => {
    const where = `subAssemblies[${i}]`;
    if (names.has(group.name) || weldment.parts.some(({ id }) => id === group.name))
      findings.push(breach(ID, `${where}.name`, `the name ${group.name} is taken already`));
    names.add(group.name);
    group.parts.forEach((part, p) => {
      const other = taken.get(part);
      if (other !== undefined)
        findings.push(breach(ID, `${where}.parts[${p}]`, `${part} is in ${other} already`));
      else taken.set(part, group.name);
    });
    findings.push(...memberFindings(weldment, group, where));
  });
  if (groups.length > 0 && weldment.parts.length - taken.size + groups.length < 2)
    findings.push(breach(ID, 'subAssemblies', 'one sub-assembly has all the parts of the weldment'));
  return findings;
}

/** Parts that one sub-assembly cannot have, and a rest that it does not have. */
function memberFindings(weldment: Weldment, group: PlanSubAssembly, where: string): Finding[] {
  const parts = group.parts.map((id) => weldment.parts.find((part) => part.id === id));
  const unknown = group.parts.filter((_, p) => parts[p] === undefined);
  if (unknown.length > 0)
    return unknown.map((id) =>
      breach(ID, `${where}.parts`, `part ${id} of ${group.name} is not in the weldment`),
    );
  const known = parts.flatMap((part) => part ?? []);
  const findings = known
    .filter(({ manual }) => manual !== undefined)
    .map(({ id }) => breach(ID, `${where}.parts`, `${id} of ${group.name} is set by hand in the weldment`));
  const magnetic = new Set(known.map(({ material }) => material.magnetic));
  if (magnetic.size > 1)
    findings.push(
      breach(
        ID,
        `${where}.parts`,
        `the parts of ${group.name} are not equally magnetic: ${listed(group.parts)}`,
      ),
    );
  if (!restPlanes(groupShape(weldment, group)).some(({ name }) => name === group.rest))
    findings.push(breach(ID, `${where}.rest`, `${group.name} has no rest ${group.rest}`));
  return findings;
}

/** Sub-assemblies against those that the weldment file asks for. */
function askedFindings(weldment: Weldment, groups: readonly PlanSubAssembly[]): Finding[] {
  const wish = weldment.subAssemblies ?? 'off';
  if (wish === 'off')
    return groups.length === 0
      ? []
      : [
          breach(ID, 'subAssemblies', 'the weldment asks for no sub-assemblies', {
            value: groups.length,
            limit: 0,
          }),
        ];
  if (wish === 'auto') return groups.flatMap((group, i) => withinFindings(group, {}, `subAssemblies[${i}]`));
  return [
    ...wish
      .filter(({ name }) => !groups.some((group) => group.name === name))
      .map(({ name }) =>
        breach(ID, 'subAssemblies', `the sub-assembly ${name} that is asked for is missing`),
      ),
    ...groups.flatMap((group, i) => {
      const where = `subAssemblies[${i}]`;
      const asked = wish.find(({ name }) => name === group.name);
      if (asked === undefined) return [breach(ID, where, `nobody asks for a sub-assembly ${group.name}`)];
      return [...sameFindings(group, asked, where), ...withinFindings(group, asked, where)];
    }),
  ];
}

function sameFindings(group: PlanSubAssembly, asked: SubAssembly, where: string): Finding[] {
  const findings: Finding[] = [];
  if (listed(group.parts) !== listed(asked.parts)) {
    const message = `${group.name} is made of ${listed(group.parts)}; it is asked for of ${listed(asked.parts)}`;
    findings.push(breach(ID, `${where}.parts`, message));
  }
  if (asked.rest !== undefined && asked.rest !== group.rest)
    findings.push(
      breach(ID, `${where}.rest`, `${group.name} lies on ${group.rest}; it is asked for on ${asked.rest}`),
    );
  return findings;
}

function withinFindings(
  { name, within }: PlanSubAssembly,
  asked: Pick<SubAssembly, 'within'>,
  where: string,
): Finding[] {
  const limit = asked.within ?? MEMBERS_WITHIN;
  if (within === limit) return [];
  const message = `parts of ${name} may be ${shown(within)} mm off; ${shown(limit)} mm is asked for`;
  return [breach(ID, `${where}.within`, message, { value: within, limit })];
}

/** Whether the weldment file names its sub-assemblies, or leaves it to the planner whether there are any. */
export const askedOf = ({ subAssemblies }: Weldment): PlanWhole['asked'] =>
  typeof subAssemblies === 'object' ? 'given' : 'auto';

/** Whether a plan says truly who asked for its sub-assemblies, and tells of a search only where there was one. */
export function wholeFindings({ weldment, plan }: Pick<WholePlan, 'weldment' | 'plan'>): Finding[] {
  const { whole, subAssemblies } = plan;
  if (whole === undefined) return [];
  if (subAssemblies === undefined)
    return [breach(ID, 'whole', 'totals are stated of a plan without sub-assemblies')];
  const asked = askedOf(weldment);
  const word = { given: 'names them', auto: 'leaves them to the planner' }[asked];
  if (whole.asked !== asked)
    return [breach(ID, 'whole.asked', `sub-assemblies are stated as ${whole.asked}; the weldment ${word}`)];
  const told = (['inOnePiece', 'search'] as const).filter((key) => whole[key] !== undefined);
  return asked === 'auto'
    ? []
    : told.map((key) => breach(ID, `whole.${key}`, 'nothing is looked for where the weldment names them'));
}

/** What a plan was made with, but for wishes: these are said of the one weldment or the other. */
const unwished = (settings: Settings): string => JSON.stringify({ ...settings, wishes: undefined });

/** Whether each plan of a sub-assembly says that it is for it, in the same cell and by the same settings. */
export function headFindings({ main, groups }: SplitContext): Finding[] {
  return groups.flatMap(({ stated, where }) => {
    const { plan, name } = stated;
    const told = (key: string, message: string): Finding => breach(ID, `${where}.plan.${key}`, message);
    const { weldment, cell } = main.plan;
    const findings: Finding[] = [];
    if (plan.weldment.name !== name || plan.weldment.digest !== weldment.digest)
      findings.push(
        told('weldment', `the plan in ${name} is for "${plan.weldment.name}", or for another file`),
      );
    if (plan.cell.name !== cell.name || plan.cell.digest !== cell.digest)
      findings.push(told('cell', `the plan of ${name} is for another cell`));
    if (unwished(plan.settings) !== unwished(main.plan.settings))
      findings.push(told('settings', `the plan of ${name} was made with other settings`));
    return findings;
  });
}
