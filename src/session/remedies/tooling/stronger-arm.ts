import { missesOf, type Trouble } from '../trouble.js';
import type { Change } from '../../../model/tried-remedy.js';
import type { Ladder } from '../ladder.js';

const TIMES = [1.25, 1.5, 2, 3];
const OVERLOADED = ['payload', 'wrist-moment', 'wrist-inertia'];

/** A handling robot that carries more, in the same place and of the same lengths. */
export const strongerArm = (trouble: Trouble): readonly Ladder[] => {
  const misses = missesOf(trouble).filter(({ code }) => OVERLOADED.includes(code));
  return Object.entries(trouble.cell.robots).flatMap(([id, robot]): Ladder[] => {
    if (robot.duty !== 'handle' || !misses.some(({ subjects }) => subjects.includes(id))) return [];
    const { mass, moment, inertia } = robot.payload;
    const changes = TIMES.map((times, i): Change => {
      const to = {
        ...robot.payload,
        ...{ mass: Math.round(mass * times * 10) / 10, moment: Math.round(moment * times) },
        ...(inertia && { inertia: inertia.map((about) => Math.round(about * times * 100) / 100) }),
      };
      return {
        words: `put an arm that carries ${to.mass} kg in the place of ${id}, which carries ${mass} kg`,
        edits: [{ file: 'cell', path: ['robots', id, 'payload'], from: robot.payload, to }],
        size: (i + 1) / TIMES.length,
        caution: 'tried with the lengths, limits and speeds of the arm as it is',
      };
    });
    return [{ kind: 'stronger-arm', cost: 'tooling', changes, monotone: true }];
  });
};
