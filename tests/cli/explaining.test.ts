import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const RING = 'examples/ring-of-six/ring-of-six.weldment.yaml';
const folder = mkdtempSync(join(tmpdir(), 'tackwright-why-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string): string => join(folder, name);

const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};

/** `why` and `compare` are run as users run them, from a build: `npm test` builds first. */
describe.skipIf(!existsSync(MAIN))('why and compare, from dist', () => {
  const [plan, other] = [at('ring.plan.json'), at('other.plan.json')];
  const why = (...args: string[]) => run('why', plan, '--weldment', RING, ...args);
  beforeAll(() => {
    writeFileSync(at('wish.yaml'), 'wishes: [{ first: a }]\n');
    expect(run('plan', RING, '--out', plan).status).toBe(0);
    expect(run('plan', RING, '--settings', at('wish.yaml'), '--out', other).status).toBe(0);
  });

  it('compare ends with 0 whether the plans differ or not', () => {
    const alike = run('compare', plan, plan);
    expect(alike).toMatchObject({ status: 0, stderr: '' });
    expect(alike.stdout).toContain('The two plans are the same.');
    const differing = run('compare', plan, other);
    expect(differing).toMatchObject({ status: 0, stderr: '' });
    expect(differing.stdout).toContain('A is better by 1 tool change');
    expect(JSON.parse(run('compare', plan, other, '--json').stdout)).toMatchObject({
      kind: 'compared',
      difference: { same: false, objective: { better: 'a' } },
    });
  });

  it('compare names what it cannot read', () => {
    expect(run('compare', plan, at('none.json'))).toMatchObject({ status: 10, stdout: '' });
    expect(run('compare', plan, RING).status).toBe(10);
    expect(run('compare', plan).status).toBe(2);
  });

  it('why answers several questions, the price as compare has it', () => {
    const asked = why('--before', 'b', 'c', '--not-first', 'a', '--grip', 'a', 'b');
    expect(asked).toMatchObject({ status: 0, stderr: '' });
    expect(asked.stdout.match(/^Why /gm)).toHaveLength(4);
    expect(asked.stdout).toContain('A choice: it saves 1 tool change against the best plan with a first.');
    const { answers } = JSON.parse(why('--not-first', 'a', '--json').stdout) as {
      answers: { verdict: { kind: string; price: { terms: unknown[] } } }[];
    };
    expect(answers[0]!.verdict).toMatchObject({
      kind: 'choice',
      price: { exact: true, terms: [{ term: 'tool-changes', given: 1, wished: 2 }, { term: 'time' }] },
    });
  });

  it('why ends with 2 where nothing is asked, 10 where the plan has no such part, 0 with an answer in a single step, 30 for another weldment', () => {
    expect(why()).toMatchObject({ status: 2, stdout: '' });
    expect(why('--before', 'b')).toMatchObject({ status: 2, stdout: '' });
    expect(why('--grip', 'lid')).toMatchObject({ status: 10, stdout: '' });
    const some = why('--grip', 'lid', 'c');
    expect(some.status).toBe(10);
    expect(some.stdout.match(/^Why /gm)).toHaveLength(1);
    expect(some.stderr).toContain('the plan has no part "lid"');
    const short = why('--not-first', 'a', '--steps', '1');
    expect(short.status).toBe(0);
    expect(short.stdout).toContain('A choice: it saves 1 tool change');
    const changed = at('changed.yaml');
    writeFileSync(changed, readFileSync(join(ROOT, RING), 'utf8').replace('mass: 2.0', 'mass: 2.5'));
    const mismatch = run('why', plan, '--weldment', changed, '--not-first', 'a');
    expect(mismatch.status).toBe(30);
    expect(mismatch.stdout.trim().split('\n')).toEqual([
      expect.stringContaining('inputs-true: weldment: the plan was made for "ring-of-six"'),
    ]);
  });
});
