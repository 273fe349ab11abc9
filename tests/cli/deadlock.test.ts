import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { storyPlan } from '../support/story-plan.js';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const STORY = join(ROOT, 'tests', 'stories', 'one-signal-each-way', 'weldment.yaml');
const CELL = join(ROOT, 'tests', 'stories', 'bench.cell.yaml');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-deadlock-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The plan in which the handling robot waits for the tacks before it says that it holds. */
function crossed(plan: GeometricPlan): GeometricPlan {
  const { steps } = plan.programs.find(({ duty }) => duty === 'handle')!;
  const i = steps.findIndex((step, k) => step.do === 'signal' && steps[k + 1]?.do === 'await');
  const [signal, wait] = [steps[i]!, steps[i + 1]!];
  if (signal.do !== 'signal' || wait.do !== 'await') throw new Error('no signal before a wait');
  const { at, ...waited } = wait;
  steps[i] = { ...signal, do: 'await', handshake: wait.handshake, at };
  steps[i + 1] = { ...waited, do: 'signal', handshake: signal.handshake };
  for (const { id, from, to } of plan.handshakes) {
    if (id === signal.handshake) from.step = wait.n;
    if (id === wait.handshake) to.step = signal.n;
  }
  return plan;
}

describe.skipIf(!existsSync(MAIN))('a deadlock made by hand in a real plan', () => {
  let plan: GeometricPlan;
  beforeAll(async () => {
    plan = crossed(storyPlan('one-signal-each-way', await loadLinearPrograms()).plan);
  }, 60_000);

  it('is caught by check, which prints who waits for whom and how it came to that', () => {
    const path = join(folder, 'crossed.plan.json');
    writeFileSync(path, JSON.stringify(plan));
    const args = [MAIN, 'check', path, '--weldment', STORY, '--cell', CELL];
    const { status, stdout } = spawnSync(process.execPath, args, { cwd: ROOT, encoding: 'utf8' });
    expect(status).toBe(30);
    const lines = stdout.split('\n');
    const at = lines.findIndex((line) => line.startsWith('handshakes-safe: handshakes: deadlock: '));
    expect(lines[at]).toMatch(
      /handler stuck at \d+: await plate-secured, sent by welder in \d+; welder stuck at \d+: await plate-held, sent by handler in \d+$/,
    );
    const trace = lines.slice(at + 1).filter((line) => line.startsWith('    '));
    expect(trace[0]).toMatch(/^ {4}handler 1 to \d+: .*hold plate$/);
    expect(trace.slice(-2)).toEqual([
      expect.stringMatching(/^ {4}handler stuck at \d+: await plate-secured/),
      expect.stringMatching(/^ {4}welder stuck at \d+: await plate-held/),
    ]);
  }, 60_000);
});
