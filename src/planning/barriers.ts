import { slug } from '../base/identifier.js';
import { robotsOf, type Cell } from '../model/cell.js';
import type { Precedence, RawPrograms } from './programs.js';

/** Steps after the last stage have no number. */
const isBefore = (stage: number, other: number): boolean => stage !== 0 && stage < other;

/**
 * Adds what a person at work asks for: every other robot has ended all its steps of earlier stages, upkeep included, when
 * the person comes, and begins none of a later stage before the person has confirmed. Where a robot has nothing to do
 * before or after, there is nothing to wait for.
 */
export function withBarriers(cell: Cell, raw: RawPrograms): RawPrograms {
  const { programs, precedences } = raw;
  const robots = robotsOf(cell);
  const people = programs.flatMap((steps, robot) =>
    steps.flatMap(({ step }, index) => (step.do === 'manual' ? [{ step, at: { robot, index } }] : [])),
  );
  const asked = people.flatMap(({ step: { part, stage }, at }) =>
    programs.flatMap((steps, robot): Precedence[] => {
      if (robot === at.robot) return [];
      const { id } = robots[robot]!;
      const own = slug(part, 'part');
      const next = steps.findLastIndex(({ step }) => isBefore(step.stage, stage)) + 1;
      const before: Precedence = {
        from: { robot, index: next - 1 },
        to: at,
        name: `${own}-${slug(id, 'robot')}-at-rest`,
        meaning: `${id} at home and stopped, out of the work zone, holding nothing`,
        guards: `a person would set ${part} while ${id} is at work`,
      };
      const after: Precedence = {
        from: at,
        to: { robot, index: next },
        name: `${own}-set`,
        meaning: `${part} set by hand, nobody left in the work zone`,
        guards: `${id} would move while a person sets ${part}`,
      };
      return [...(next > 0 ? [before] : []), ...(next < steps.length ? [after] : [])];
    }),
  );
  return { ...raw, precedences: [...precedences, ...asked] };
}
