import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const RING = 'examples/ring-of-six/ring-of-six.weldment.yaml';
const folder = mkdtempSync(join(tmpdir(), 'tackwright-report-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string): string => join(folder, name);
const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};

describe.skipIf(!existsSync(MAIN))('tackwright report, from dist', () => {
  const plan = at('ring.plan.json');
  const report = (...more: string[]) => run('report', plan, '--weldment', RING, ...more);

  beforeAll(() => {
    expect(run('plan', RING, '--out', plan).status).toBe(0);
  });

  it('writes page, pictures and tables, the same bytes each time', () => {
    const wanted = (n: number): string[] => [
      '--out',
      at(`${n}.html`),
      '--svg',
      at(`svg${n}`),
      '--csv',
      at(`csv${n}`),
    ];
    for (const n of [1, 2]) expect(report(...wanted(n))).toMatchObject({ status: 0, stderr: '' });
    const page = readFileSync(at('1.html'), 'utf8');
    expect(page.startsWith('<!doctype html>')).toBe(true);
    expect(readFileSync(at('2.html'), 'utf8')).toBe(page);
    expect(readdirSync(at('svg1'))).toEqual(['contact-graph.svg']);
    expect(readdirSync(at('csv1')).toSorted()).toEqual(['objective.csv', 'stages.csv']);
  });

  it('shows answers that were given', () => {
    const answers = run('why', plan, '--weldment', RING, '--not-first', 'a', '--json');
    writeFileSync(at('why.json'), answers.stdout);
    expect(report('--out', at('why.html'), '--why', at('why.json'), '--no-forced').status).toBe(0);
    expect(readFileSync(at('why.html'), 'utf8')).toContain('Why is a not the first part?');
    expect(report('--out', at('no-why.html'), '--no-forced').status).toBe(0);
    expect(readFileSync(at('no-why.html'), 'utf8')).not.toContain('Why is a not the first part?');
  });

  it.each<[string, string[], number, RegExp]>([
    ['nothing to write', [], 2, /say what to write/],
    ['a page over the plan', ['--out', plan], 2, /would overwrite the input/],
    ['a folder that is a file', ['--svg', plan], 10, /a file is in the way/],
    ['answers that are none', ['--out', at('x.html'), '--why', plan], 10, /ring\.plan\.json/],
    ['a trade that is none', ['--out', at('x.html'), '--trade', plan], 10, /ring\.plan\.json/],
    ['a file that is not there', ['--out', at('x.html'), '--why', at('gone.json')], 10, /gone\.json/],
  ])('refuses %s in a line, and writes nothing', (_, more, status, line) => {
    const before = readFileSync(plan, 'utf8');
    const ended = report(...more);
    expect(ended.status).toBe(status);
    expect(ended.stderr).toMatch(line);
    expect(ended.stderr).not.toContain('    at ');
    expect(existsSync(at('x.html'))).toBe(false);
    expect(readFileSync(plan, 'utf8')).toBe(before);
  });

  it('refuses a plan for other files', () => {
    const other = at('other.yaml');
    writeFileSync(other, readFileSync(join(ROOT, RING), 'utf8').replace('mass: 2.0', 'mass: 2.5'));
    const ended = run('report', plan, '--weldment', other, '--out', at('x.html'));
    expect(ended.status).toBe(30);
    expect(existsSync(at('x.html'))).toBe(false);
  });
});
