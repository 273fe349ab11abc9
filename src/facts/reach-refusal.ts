import type { StrokeMiss } from '../kinematics/strokes.js';
import type { Refusal } from '../model/verdict.js';

/** A miss of an arm as a refusal, with the number by which it fails. */
export function reachRefusal({ miss }: StrokeMiss, subjects: readonly string[]): Refusal {
  switch (miss.kind) {
    case 'distance':
      return { code: `reach-${miss.side}`, subjects, value: miss.missing, limit: 0, unit: 'mm' };
    case 'limit':
      return {
        code: `joint-${miss.joint}-limit`,
        subjects,
        value: miss.value,
        limit: miss.limit,
        unit: 'deg',
      };
    case 'elbow':
      return { code: 'elbow-limit', subjects, value: miss.value, limit: miss.limit, unit: 'deg' };
    case 'wrist-singular':
      return { code: 'wrist-stretched', subjects, value: miss.degrees, limit: miss.needed, unit: 'deg' };
    case 'jump':
    case 'elsewhere':
      return { code: `joint-${miss.joint}-jump`, subjects, value: miss.degrees, unit: 'deg' };
  }
}
