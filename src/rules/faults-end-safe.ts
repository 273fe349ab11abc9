import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { DropZone, Fault } from '../model/plan-safety.js';
import type { FaultRun, UnsafeEnd } from './fault-run.js';
import { runFaults } from './fault-run.js';
import { breach, type Rule, type RuleContext } from './rule.js';

const ID = 'faults-end-safe';

/** Most characters of a value that a finding quotes. */
const MOST_TOLD = 160;

/** Places of zones are stated to a millimetre. */
const ROUNDING = 1.1;

/** The first row that comes to each end, and how many do. */
function unsafeFindings({ plan, cell }: RuleContext, unsafe: readonly UnsafeEnd[]): Finding[] {
  const robots = robotsOf(cell).map(({ id }) => id);
  const byEnd = new Map<string, UnsafeEnd[]>();
  for (const end of unsafe) byEnd.set(end.what, [...(byEnd.get(end.what) ?? []), end]);
  return [...byEnd.values()].map((ends) => {
    const { fault, robot, step, what } = ends[0]!;
    const p = plan.programs.findIndex((program) => program.robot === robots[robot]);
    const { n } = plan.programs[p]!.steps[step]!;
    const more = ends.length > 1 ? `, and so after ${ends.length - 1} more faults` : '';
    const message = `${fault.replace(/-/g, ' ')} at step ${n} of ${robots[robot]!}: ${what}${more}`;
    return breach(ID, `programs[${p}].steps[${step}]`, message, { value: ends.length, limit: 0 });
  });
}

const sameZone = (a: DropZone, b: DropZone | undefined): boolean =>
  b !== undefined &&
  [a.part, a.gripper, a.stage].join('\n') === [b.part, b.gripper, b.stage].join('\n') &&
  [0, 1].every((i) => b.from[i]! <= a.from[i]! + ROUNDING && b.to[i]! >= a.to[i]! - ROUNDING);

/** A line of the table of faults, in a few words. */
const lineWords = ({ fault, robot, steps, rows }: Fault): string => {
  const [first, last] = [steps[0]![0], steps.at(-1)![1]];
  return `${fault} of ${robot}, ${rows} of them ${first === last ? `at step ${first}` : `from step ${first} to ${last}`}`;
};

/** How a line of the table differs from what executing the faults gives; one of the two may be missing. */
function differenceOf(said: Fault | undefined, given: Fault | undefined): string {
  if (said === undefined)
    return `executing the faults also gives ${lineWords(given!)}; the plan leaves it out`;
  if (given === undefined) return `executing the faults does not give ${lineWords(said)}`;
  if (lineWords(said) !== lineWords(given))
    return `the plan says ${lineWords(said)}; executing the faults gives ${lineWords(given)}`;
  const differ = (Object.keys(given) as (keyof Fault)[]).filter(
    (key) => JSON.stringify(sorted(said[key])) !== JSON.stringify(sorted(given[key])),
  );
  const real = differ.map((key) => JSON.stringify(given[key]).slice(0, MOST_TOLD)).join(' and ');
  return `${lineWords(given)}: the plan differs in ${differ.join(' and ')}; executing the faults gives ${real}`;
}

function tableFindings({ plan }: RuleContext, run: FaultRun): Finding[] {
  const { faults, faultRows, dropZones } = plan.safety;
  const findings: Finding[] = [];
  if (faultRows !== run.rows)
    findings.push(
      breach(ID, 'safety.faultRows', `the plan counts ${faultRows} single faults; there are ${run.rows}`, {
        value: faultRows,
        limit: run.rows,
      }),
    );
  const differs = Array.from({ length: Math.max(faults.length, run.faults.length) }, (_, i) => i).find(
    (i) => JSON.stringify(sorted(faults[i])) !== JSON.stringify(sorted(run.faults[i])),
  );
  if (differs !== undefined)
    findings.push(
      breach(ID, `safety.faults[${differs}]`, differenceOf(faults[differs], run.faults[differs])),
    );
  const zone = run.dropZones.findIndex((one, i) => !sameZone(one, dropZones[i]));
  if (zone >= 0) {
    const { part, gripper } = run.dropZones[zone]!;
    const message = `${part} may fall on its way when ${gripper} loses power, in a zone that the plan does not state`;
    findings.push(breach(ID, `safety.dropZones[${zone}]`, message));
  }
  return findings;
}

/** The same with its keys in the order of the alphabet. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, one]) => one !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, one]) => [key, sorted(one)]),
  );
}

function judge(context: RuleContext): Finding[] {
  const run = runFaults(context);
  if (run === undefined) return [];
  const unsafe = unsafeFindings(context, run.unsafe);
  return unsafe.length > 0 ? unsafe : tableFindings(context, run);
}

/**
 * Every single fault of the table, at every step that it can strike and wherever the other robots may be meanwhile, ends
 * with each part at a station, held, standing as its stage proves, or in a zone where nobody may be, and with no arc
 * burning; and the plan states the table that comes of it.
 */
export const faultsEndSafe: Rule = {
  id: ID,
  forbids:
    'a fault after which a part is neither at a station, held, standing nor over a guarded zone, an arc that burns on, or a table of faults that is not true',
  why: 'a cell spends its worst minutes after something went wrong, and nobody has watched them beforehand',
  judge,
};
