import type { PlanPose } from '../../src/index.js';

/** Marks that show nothing, end a line or turn the reading direction: a name could use them to look like another line. */
const UNSEEN =
  // eslint-disable-next-line no-control-regex
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]|\p{Surrogate}/gu;

/** Any text of the plan as it may stand in a line: what is not seen is written as an escape. */
export const plainly = (text: string): string =>
  text.replace(UNSEEN, (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** A name of the plan, in quotes. */
export const quoted = (name: string): string =>
  `"${plainly(name.replaceAll('\\', '\\\\').replaceAll('"', '\\"'))}"`;

/** A list of numbers in brackets, as the plan has them. */
export const numbers = (values: readonly number[]): string => `[${values.join(', ')}]`;

/** A pose, as roll, pitch and yaw about fixed axes. */
export const posed = ({ at, turn }: PlanPose): string => `at ${numbers(at)} turned ${numbers(turn)}`;

const LONGEST = 40;

/**
 * The name of a robot's file: its number, so that no two are the same, and of its name no more than the letters,
 * digits and dashes that any file system takes.
 */
export function fileName(index: number, robot: string): string {
  const safe = robot
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST)
    .replace(/^-+|-+$/g, '');
  return `${index + 1}-${safe === '' ? 'robot' : safe}.txt`;
}
