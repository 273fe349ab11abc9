import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import type { Facts } from '../src/facts/facts.js';
import type { TackSite } from '../src/facts/tack-sites.js';
import { factsOf } from '../src/planning/plan.js';
import { readInputs } from '../src/session/inputs.js';
import { shapedExamples } from './grip-density.js';
import { row, seconds } from './printing.js';

const allSites = (facts: Facts): readonly TackSite[] =>
  facts.joints.flatMap((joint) => joint.seams.flatMap((seam) => facts.sites(joint, seam)));

/** Every candidate site of every seam of an example with its best torch motion, no part in the way but its own two. */
export function torchSites(programs: LinearPrograms, names: readonly string[], repeats: number): void {
  for (const { name, sources } of shapedExamples()) {
    if (!names.includes(name)) continue;
    const { weldment, cell, settings } = readInputs(sources).inputs!;
    if (weldment.kind !== 'geometric') continue;
    let said = '';
    const times = Array.from({ length: repeats }, () => {
      const facts = factsOf(weldment, cell!, settings, programs);
      return seconds(() => {
        const sites = allSites(facts);
        const any = { way: () => true, motion: () => true };
        const reached = sites.filter((site) => facts.torchMotion(site, any)).length;
        const ways = sites.reduce((sum, site) => sum + site.ways.length + site.blocked.length, 0);
        said = `${reached} of ${sites.length} sites, ${ways} torch ways`;
      });
    });
    row(`torch-site table of ${name}, ${weldment.parts.length} parts`, times, said);
  }
}
