import type { Step } from '../model/plan.js';

/** What a step is about, in the order in which its label tells it. */
const SUBJECTS = ['part', 'tack', 'joint', 'zone', 'place', 'gripper', 'clamp', 'handshake', 'to'];

/** A step in a few words, as `move above wall`: its kind and the names in it. Steps of any kind have one. */
export function stepLabel(step: Step): string {
  const fields = new Map<string, unknown>(Object.entries(step));
  const told = SUBJECTS.map((subject) => fields.get(subject)).filter(
    (value) => typeof value === 'string' || typeof value === 'number',
  );
  return [step.do, ...told].join(' ');
}
