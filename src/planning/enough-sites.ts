import type { Facts } from '../facts/facts.js';
import type { EnoughSites } from '../facts/reach-survey.js';
import { coverSeam, largestPitch } from './tack-covering.js';

/** Whether sites are enough to tack a seam by the rules of length, pitch, ends and least number. */
export const enoughSites =
  (facts: Facts): EnoughSites =>
  (joint, seam, sites) => {
    const thinner = Math.min(...[joint.a, joint.b].map((part) => facts.scene.parts[part]!.thickness));
    const cover = {
      seamLength: seam.length,
      tackLength: facts.tackLength(joint, seam),
      pitch: largestPitch(thinner, facts.settings),
      sites,
      whileHeld: sites.map(() => true),
    };
    return coverSeam(cover, facts.settings) !== undefined;
  };
