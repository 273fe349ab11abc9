import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { programFiles } from '../../examples/generator/program-text.js';
import { readPlan, Refusal } from '../../examples/generator/read-plan.js';
import { stepLines } from '../../examples/generator/step-lines.js';
import { fileName } from '../../examples/generator/words.js';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan, Handshake, Step } from '../../src/model/plan.js';
import { barePlan } from '../support/bare-plan.js';
import { storyPlan } from '../support/story-plan.js';

const ROOT = join(import.meta.dirname, '..', '..');
const GENERATOR = join(ROOT, 'examples', 'generator');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-generator-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let plan: GeometricPlan;
beforeAll(async () => {
  ({ plan } = storyPlan('seam-search-for-a-loose-datum', await loadLinearPrograms()));
});

const run = (...args: string[]) => {
  const started = ['--import', 'tsx', join(GENERATOR, 'generate.ts'), ...args];
  const { status, stdout, stderr } = spawnSync(process.execPath, started, { cwd: ROOT, encoding: 'utf8' });
  return { status, stdout, stderr };
};

const write = (name: string, value: unknown): string => {
  const file = join(folder, name);
  writeFileSync(file, JSON.stringify(value));
  return file;
};

/** Numbers of the steps in a text, in its order. */
const stepNumbers = (text: string): number[] =>
  [...text.matchAll(/^ {0,4}(\d+) {2}\S/gm)].map(([, n]) => Number(n));

describe('the small generator', () => {
  it('writes a text for each robot, in which each step stands once', () => {
    const file = write('plan.json', plan);
    const ended = run(file, join(folder, 'out'));
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    expect(readdirSync(join(folder, 'out'))).toEqual(['1-handler.txt', '2-welder.txt']);
    plan.programs.forEach(({ steps }, i) => {
      const text = readFileSync(join(folder, 'out', readdirSync(join(folder, 'out'))[i]!), 'utf8');
      expect(stepNumbers(text)).toEqual(steps.map(({ n }) => n));
      expect(text).toMatch(/^note Robot [^]*\nnote CAUTION [^]*\nend\n$/);
    });
    expect(run(file, join(folder, 'out')).stdout).toBe(ended.stdout);
  });

  it('says of every signal who sends it, how long it is waited for, and what happens then', () => {
    const [handler, welder] = programFiles(plan).map(({ text }) => text);
    for (const { id, from, meaning, timeLimit, reaction } of plan.handshakes) {
      const [sender, receiver] = from.robot === 'handler' ? [handler, welder] : [welder, handler];
      expect(sender).toContain(`tell "${id}" (${meaning})\n`);
      expect(receiver).toContain(
        `wait until told "${id}" (${meaning})\n         at most ${timeLimit} s, then: ${reaction}\n`,
      );
    }
  });

  it('states every tool and frame that a step names', () => {
    programFiles(plan).forEach(({ text }, i) => {
      const { robot, steps } = plan.programs[i]!;
      const posed = steps.flatMap((step) => ('tool' in step ? [step] : []));
      expect(posed.length).toBeGreaterThan(5);
      for (const { tool, frame } of posed) {
        expect(text).toMatch(new RegExp(`^tool "${tool}" .* from the flange at `, 'm'));
        expect(text).toMatch(new RegExp(`^frame ${frame} in the cell at `, 'm'));
      }
      const base = plan.frames.bases.find((one) => one.robot === robot)!;
      expect(text).toContain(`base of the robot in the cell at [${base.pose.at.join(', ')}] turned`);
    });
  });

  it('puts the kinds of steps into words of its own', () => {
    const doing = (n: number, what: object): Step => ({ n, stage: 1, start: 0, end: 1, ...what }) as Step;
    const small = barePlan('wall');
    small.handshakes.push({
      ...{ id: 'H1', name: 'wall-held', kind: 'single-use', waiting: 'torch-away' },
      ...{ from: { robot: 'left', step: 3 }, to: { robot: 'right', step: 1 } },
      ...{ meaning: 'wall held and still', guards: 'the arc would start too early', timeLimit: 60 },
      reaction: 'keep holding, stop all robots, call a person',
    } as Handshake);
    const to = [0, -30, 20, 0, 90, 0];
    const pose = { tool: 'wide', frame: 'weldment', pose: { at: [1, 2, 3], turn: [180, 0, 90] } };
    const branch = { shoulder: 'front', elbow: 'up', wrist: 'plain' };
    const steps = [
      doing(1, { do: 'grip', part: 'wall', gripper: 'wide', action: 'magnet-on', confirm: 'part-held' }),
      doing(2, { do: 'move', path: 'straight', to, ...pose, branch, speed: 250, place: 'place of wall' }),
      doing(3, { do: 'signal', handshake: 'H1' }),
    ];
    const right = {
      robot: 'right',
      duty: 'weld' as const,
      steps: [doing(1, { do: 'await', handshake: 'H1' })],
    };
    small.programs.push({ robot: 'left', duty: 'handle', steps }, right);
    const body = programFiles(small).map(({ text }) =>
      text.slice(text.indexOf('\n\n', text.indexOf('units'))),
    );
    expect(body.join('---')).toMatchInlineSnapshot(`
      "


      tells "right" "H1": wall held and still
        note without it: the arc would start too early

      stage 1 part "wall"
          1  take part "wall" with gripper "wide": magnet-on
               go on when: part-held
          2  slide to joints [0, -30, 20, 0, 90, 0]
               tool "wide" in frame weldment at [1, 2, 3] turned [180, 0, 90]
               arm shoulder front, elbow up, wrist plain
               pace 250 mm/s
               note place of wall
          3  tell "H1" (wall held and still)
      end
      ---


      is told by "left" "H1": wall held and still
        note without it: the arc would start too early

      stage 1 part "wall"
          1  wait until told "H1" (wall held and still)
               at most 60 s, then: keep holding, stop all robots, call a person
      end
      "
    `);
  });

  it('stops at what it does not know', () => {
    const dance = { n: 7, stage: 1, start: 0, end: 1, do: 'dance' } as unknown as Step;
    expect(() => stepLines(dance, plan)).toThrow(/step 7: .*does not know the step "dance"/);
    const strange = structuredClone(plan);
    strange.programs[0]!.steps[3]!.do = 'dance' as 'grip';
    const refused = run(write('strange.json', strange), join(folder, 'none'));
    expect(refused).toMatchObject({ status: 10, stdout: '' });
    expect(refused.stderr).toMatch(
      /: \/programs\/0\/steps\/3\/do: "dance": the schema has no such value here\n$/,
    );
    expect(refused.stderr.split('\n')).toHaveLength(2);
    expect(readdirSync(folder)).not.toContain('none');
  });

  it('refuses what is no plan, and a plan without programs', () => {
    expect(() => readPlan('{')).toThrow(Refusal);
    expect(() => readPlan('{}')).toThrow(Refusal);
    expect(() => readPlan(JSON.stringify({ ...plan, version: 99 }))).toThrow('/version: 99');
    const changed = structuredClone(plan) as unknown as { programs: { steps: Record<string, unknown>[] }[] };
    changed.programs[1]!.steps.find((step) => step.do === 'tack')!.colour = 'red';
    expect(() => readPlan(JSON.stringify(changed))).toThrow(/^\/programs\/1\/steps\/\d+: .*\(colour\)$/);
    expect(run()).toMatchObject({ status: 2, stdout: '' });
    expect(run(join(folder, 'missing.json'))).toMatchObject({ status: 10, stdout: '' });
  });

  it('lets no name lead out of the folder, clash, or pass for a line', () => {
    expect(fileName(0, '../../etc/passwd')).toBe('1-etc-passwd.txt');
    expect(fileName(1, 'Robot Ä')).toBe('2-robot.txt');
    expect(fileName(2, '機械')).toBe('3-robot.txt');
    const hostile = barePlan('wall');
    hostile.weldment.name = 'x\n    1  let go of part "wall"';
    hostile.programs.push({ robot: 'a"\n', duty: 'handle', steps: [] });
    const [{ text } = { text: '' }] = programFiles(hostile);
    expect(stepNumbers(text)).toEqual([]);
    expect(text).toContain('note Robot "a\\"\\u000a"');
  });

  it('takes nothing but types from the library', () => {
    const taken = readdirSync(GENERATOR)
      .filter((file) => file.endsWith('.ts'))
      .flatMap((file) => readFileSync(join(GENERATOR, file), 'utf8').match(/^import .*src\/.*$/gm) ?? []);
    expect(taken.length).toBeGreaterThan(1);
    for (const line of taken) expect(line).toMatch(/^import type .*'\.\.\/\.\.\/src\/index\.js';$/);
  });
});
