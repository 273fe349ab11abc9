import { cover, type CoveringProgram } from '../src/algorithms/covering.js';
import type { LinearPrograms, Program } from '../src/algorithms/linear-program.js';
import type { Facts } from '../src/facts/facts.js';
import { factsOf } from '../src/planning/plan.js';
import { middleOf, seamCover } from '../src/planning/seam-row.js';
import { jointPrograms, smallJoint } from '../src/planning/tack-covering.js';
import { readInputs } from '../src/session/inputs.js';
import { shapedExamples } from './grip-density.js';
import { median, row, seconds } from './printing.js';

/** Thirds of each seam that a gripper is in the way of, 0 for none. */
const BLOCKED = [0, 1, 2, 3] as const;

/** The covering programs of every joint: sides paired and free, a gripper nowhere or over a third of each seam. */
function programsOf(facts: Facts): readonly CoveringProgram[] {
  return facts.joints.flatMap((joint) =>
    BLOCKED.flatMap((third) => {
      const seams = joint.seams.map((seam) => {
        const sites = facts.sites(joint, seam);
        const held = sites.map((site) => Math.ceil((3 * middleOf(site)) / seam.length) !== third);
        return seamCover(facts, joint, seam, sites, held);
      });
      const small = smallJoint(seams);
      if (small === undefined) return [];
      return (['paired', 'free'] as const).map((sides) =>
        jointPrograms(small.seams, small.counts, sides)[0]!(),
      );
    }),
  );
}

const asMixedInteger = ({ costs, choices }: CoveringProgram): Program => ({
  columns: costs.map((cost) => ({ cost, lower: 0, upper: 1, integer: true })),
  rows: choices.map(({ members, atLeast, atMost }) => ({
    lower: atLeast ?? 0,
    upper: atMost ?? Infinity,
    entries: members.map((item) => [item, 1] as const),
  })),
});

/** The programs of the joints of examples, by the covering solver and by HiGHS; and whether both find the same cost. */
export function coverings(programs: LinearPrograms, names: readonly string[], repeats: number): void {
  const all = shapedExamples().flatMap(({ name, sources }) => {
    if (!names.includes(name)) return [];
    const { weldment, cell, settings } = readInputs(sources).inputs!;
    return weldment.kind === 'geometric' ? programsOf(factsOf(weldment, cell!, settings, programs)) : [];
  });
  let own: (number | undefined)[] = [];
  const times = Array.from({ length: repeats }, () =>
    seconds(() => {
      own = all.map((program) => {
        const outcome = cover(program, 2000);
        return outcome.status === 'optimal' ? outcome.cost : undefined;
      });
    }),
  );
  let witness: (number | undefined)[] = [];
  const other = Array.from({ length: repeats }, () =>
    seconds(() => {
      witness = all.map((program) => {
        const outcome = programs.solve(asMixedInteger(program));
        return outcome.status === 'optimal' ? Math.round(outcome.objective) : undefined;
      });
    }),
  );
  const rate = Math.round(all.length / median(times));
  const items = Math.max(...all.map(({ costs }) => costs.length));
  row(
    `covering programs of ${names.length === 1 ? names[0] : `${names.length} examples`}`,
    times,
    `${all.length} programs, ${items} items at most, ${rate} programs/s`,
  );
  const same = own.filter((cost, i) => cost === witness[i]).length;
  const ratio = (median(other) / median(times)).toFixed(2);
  row('  the same by HiGHS', other, `${ratio} x the time, the same cost in ${same} of ${all.length}`);
}
