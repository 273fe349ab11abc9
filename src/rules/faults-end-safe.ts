import { robotsOf } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import type { DropZone } from '../model/plan-safety.js';
import type { FaultRun, UnsafeEnd } from './fault-run.js';
import { runFaults } from './fault-run.js';
import { breach, type Rule, type RuleContext } from './rule.js';

const ID = 'faults-end-safe';

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
  if (differs !== undefined) {
    const { fault, robot } = (run.faults[differs] ?? faults[differs])!;
    findings.push(
      breach(
        ID,
        `safety.faults[${differs}]`,
        `what is said of ${fault} of ${robot} is not what executing it gives`,
      ),
    );
  }
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
