import type { GeometricPlan } from '../../src/index.js';
import { numberedLines } from './step-lines.js';
import { fileName, numbers, plainly, posed, quoted } from './words.js';

/** A file that is to be written. */
export interface ProgramFile {
  readonly name: string;
  readonly text: string;
}

type Program = GeometricPlan['programs'][number];

/** What every file says first, whatever the plan says itself. */
const AID = [
  'This text is an aid for the person who writes and tries the program of the robot. No robot runs it.',
  'Held parts fall when power, air or magnetism is lost; arcs burn, blind and fume; robots crush.',
  'Risk assessment, guarding and stop functions follow ISO 10218 and local rules; ordinary signals are no safety function.',
  'Weld procedures and personnel are qualified under the code that applies; strength and time figures are estimates.',
];

/** One file for each robot program of a plan. Throws a `Refusal` for what it cannot put into words. */
export const programFiles = (plan: GeometricPlan): readonly ProgramFile[] =>
  plan.programs.map((program, i) => ({
    name: fileName(i, program.robot),
    text: `${[...head(program, plan), ...frames(program, plan), ...signals(program, plan), ...work(program, plan), 'end'].join('\n')}\n`,
  }));

const note = (text: string): string => `note ${plainly(text)}`;

function head(
  { robot, duty }: Program,
  { weldment, cell, cautions, safety }: GeometricPlan,
): readonly string[] {
  return [
    note(`Robot ${quoted(robot)}, which ${duty === 'handle' ? 'handles parts' : 'welds'}.`),
    note(`Weldment ${quoted(weldment.name)} (input ${weldment.digest.slice(0, 12)}),`),
    note(`cell ${quoted(cell.name)} (input ${cell.digest.slice(0, 12)}).`),
    ...[...AID, ...cautions].map((caution) => note(`CAUTION ${caution}`)),
    note(`Not covered by the proof of the signals: ${safety.notCovered}.`),
    '',
    'units mm, deg, s, N',
    'turned: roll, pitch, yaw about the fixed x, y, z',
    '',
  ];
}

function frames({ robot }: Program, { frames: { bases, tools, works } }: GeometricPlan): readonly string[] {
  return [
    ...bases
      .filter((base) => base.robot === robot)
      .map(({ pose }) => `base of the robot in the cell ${posed(pose)}`),
    ...works.map(({ name, pose, about }) => {
      const turns = about === undefined ? '' : `, table at 0 deg; turns with it about ${numbers(about)}`;
      return `frame ${name} in the cell ${posed(pose)}${turns}`;
    }),
    ...tools
      .filter((tool) => tool.robot === robot)
      .map(({ name, kind, pose }) => `tool ${quoted(name)} (${kind}) from the flange ${posed(pose)}`),
    '',
  ];
}

function signals({ robot }: Program, { handshakes }: GeometricPlan): readonly string[] {
  const lines = handshakes.flatMap(({ id, from, to, meaning, guards }) => {
    const what = `${quoted(id)}: ${plainly(meaning)}`;
    const why = `  note without it: ${plainly(guards)}`;
    if (from.robot === robot) return [`tells ${quoted(to.robot)} ${what}`, why];
    return to.robot === robot ? [`is told by ${quoted(from.robot)} ${what}`, why] : [];
  });
  return [...lines, ''];
}

function work({ steps }: Program, plan: GeometricPlan): readonly string[] {
  let stage = -1;
  return steps.flatMap((step) => {
    const begins = step.stage !== stage;
    stage = step.stage;
    return [...(begins ? stageLines(stage, plan) : []), ...numberedLines(step, plan)];
  });
}

const stageLines = (number: number, { stages }: GeometricPlan): readonly string[] => {
  const found = stages.find((stage) => stage.number === number);
  const table = found?.turn === undefined ? '' : `, work table at ${found.turn} deg`;
  return [`stage ${number}${found === undefined ? '' : ` part ${quoted(found.part)}${table}`}`];
};
