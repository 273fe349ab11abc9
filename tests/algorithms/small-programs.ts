import type { Program, ProgramEvent } from '../../src/algorithms/concurrent-program.js';
import { seededRandom } from '../../src/base/random.js';

export const act = (label = 'work'): ProgramEvent => ({ kind: 'do', label });
export const send = (signal: string): ProgramEvent => ({ kind: 'send', signal });
export const wait = (signal: string): ProgramEvent => ({ kind: 'await', signal });

/** Programs in which each signal is sent once and awaited once, at random places; they may deadlock. */
export function randomPrograms(
  seed: number,
  shape: { programs: number; signals: number; acts: number },
): Program[] {
  const random = seededRandom(seed);
  const programs = Array.from({ length: shape.programs }, (): ProgramEvent[] => []);
  const insert = (event: ProgramEvent): void => {
    const events = programs[Math.floor(random() * programs.length)]!;
    events.splice(Math.floor(random() * (events.length + 1)), 0, event);
  };
  for (let i = 0; i < shape.acts; i += 1) insert(act());
  for (let i = 0; i < shape.signals; i += 1) {
    insert(send(`s${i}`));
    insert(wait(`s${i}`));
  }
  return programs;
}
