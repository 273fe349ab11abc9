import type { Facts } from '../facts/facts.js';
import type { EnoughSites } from '../facts/reach-survey.js';
import { fewestTacks, seamCover } from './seam-row.js';

/** Whether sites are enough to tack a seam by the rules of length, pitch, ends and least number. */
export const enoughSites =
  (facts: Facts): EnoughSites =>
  (joint, seam, sites) =>
    fewestTacks(
      seamCover(
        facts,
        joint,
        seam,
        sites,
        sites.map(() => true),
      ),
    ) !== undefined;
