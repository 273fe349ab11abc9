import type { ArmStep } from '../../../rules/arm-replay.js';
import { plain } from '../../plain.js';
import type { PageTool } from '../page-data.js';
import { meshOfPieces } from './mesh.js';
import type { RobotProgram } from './robot-program.js';

/** The tools of a robot, and which of them is on its flange in each step of its program. */
export interface ToolsInUse {
  readonly tools: readonly PageTool[];
  /** Index of the tool by that of the step; -1: none. */
  readonly at: (step: number) => number;
}

/** What is fixed to the flange, by what the replay of the rules finds there; what is carried is not of it. */
function toolOf({ who }: RobotProgram, { course }: ArmStep): PageTool | undefined {
  const pieces = course.load.filter(({ carried }) => !carried);
  if (pieces.length === 0) return undefined;
  const mesh = meshOfPieces(
    pieces.map(({ piece }) => piece),
    who.duty === 'weld',
  );
  return { name: plain(pieces[0]!.name), mesh };
}

/** The tools of a robot from the replay of its program, each shape once. */
export function toolsInUse(program: RobotProgram, replayed: readonly ArmStep[]): ToolsInUse {
  const tools: PageTool[] = [];
  const numbers = new Map<string, number>();
  const inUse: number[] = [];
  for (const step of replayed) {
    const tool = toolOf(program, step);
    const key = JSON.stringify(tool ?? null);
    let number = tool === undefined ? -1 : numbers.get(key);
    if (number === undefined) {
      number = tools.length;
      numbers.set(key, number);
      tools.push(tool!);
    }
    for (let i = step.first; i <= Math.max(step.first, step.last); i += 1) inUse[i] = number;
  }
  return { tools, at: (step) => inUse[step] ?? -1 };
}
