import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { readResults } from '../../src/study/results-csv.js';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const RING = join(ROOT, 'examples/ring-of-six/ring-of-six.weldment.yaml');
const NEAREST = join(ROOT, 'examples/heuristic/nearest-next.mjs');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-study-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string): string => join(folder, name);
const write = (name: string, text: string | Buffer): string => {
  writeFileSync(at(name), text);
  return at(name);
};
const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, 'study', ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};

/** Five nodes; the best order is 0 1 3 2 4 with cost 7, by hand in tests/study/instances.test.ts. */
const SOP = '5\n0 2 8 9 99\n-1 0 5 1 2\n-1 6 0 -1 1\n-1 4 3 0 7\n-1 -1 -1 -1 0\n';

/** Rows without what the clock says, and in no order. */
const untimed = (file: string): string[] =>
  rowsOf(file)
    .map((row) => JSON.stringify({ ...row, ...UNTIMED }))
    .sort();
const UNTIMED = { firstSeconds: 0, bestSeconds: 0, proofSeconds: 0, totalSeconds: 0 };
const rowsOf = (file: string) => readResults(readFileSync(file, 'utf8'), file).rows.map(({ row }) => row);

/** The command is run as users run it, from a build: `npm test` builds first. */
describe.skipIf(!existsSync(MAIN))('tackwright study, from dist', () => {
  mkdirSync(at('set'), { recursive: true });
  write('set/tiny.sop.gz', gzipSync(SOP));
  write('set/notes.json', '{}');
  write('set/ring.weldment.yaml', readFileSync(RING, 'utf8'));
  const grid = [at('set'), '--solvers', 'beam,random-restarts', '--seeds', '1-2', '--steps', '500'];

  it('runs a folder, takes up torn results, and comes to the same by shards', () => {
    const whole = at('whole.csv');
    const first = run(...grid, '--out', whole, '--profile', at('p.svg'), '--measure', 'steps');
    expect(first).toMatchObject({ status: 0, stderr: '' });
    expect(first.stdout).toContain('(6 rows made)');
    expect(readFileSync(at('p.svg'), 'utf8')).toContain('Performance profile');
    const rows = rowsOf(whole);
    expect(
      rows.filter(({ solver }) => solver === 'beam').map(({ outcome, best }) => [outcome, best]),
    ).toEqual([
      ['optimal', [0, 1, 155000]],
      ['optimal', [7]],
    ]);
    expect(rows.filter(({ solver, note }) => solver === 'beam' && note.includes('one run'))).toHaveLength(2);

    const text = readFileSync(whole, 'utf8');
    const torn = write('torn.csv', text.slice(0, -9));
    expect(run(...grid, '--out', torn).stdout).toContain('(1 row made, 5 rows there before)');
    expect(untimed(torn)).toEqual(untimed(whole));
    expect(run(...grid, '--out', torn).stdout).toContain('(0 rows made, 6 rows there before)');

    for (const shard of ['1/2', '2/2']) {
      const ran = run(...grid, '--shard', shard, '--out', at(`shard-${shard[0]}.csv`));
      expect(ran.stdout).toContain('(3 rows made)');
    }
    const merged = run(
      'merge',
      at('shard-1.csv'),
      at('shard-2.csv'),
      at('shard-1.csv'),
      '--out',
      at('all.csv'),
    );
    expect(merged).toMatchObject({
      status: 0,
      stdout: expect.stringContaining('6 rows, 3 duplicates dropped'),
    });
    expect(untimed(at('all.csv'))).toEqual(untimed(whole));

    const table = write('known.csv', 'instance,best_known\ntiny,5\n');
    const summary = run('summary', at('all.csv'), '--best-known', table);
    // No order costs 5, as all three solvers prove.
    expect(summary.status).toBe(10);
    expect(summary.stderr).toMatch(/the table has 5 for tiny, and \S+ says that none costs less than 7/);
    // On tiny 7 is 40% above 5; on the ring there is no value in the table, and the gap to the best row is 0.
    expect(summary.stdout).toMatch(/^beam +2 +2 +2 +0 +0 +20% +20% +40%/m);
  });

  it('keeps each failing heuristic to its own row', () => {
    const modules = {
      'hang.mjs': 'export default () => { for (;;); };',
      'hang-told.mjs': 'export default (p, { report }) => { report(["1", "3", "2", "4"]); for (;;); };',
      'throw.mjs': 'export default () => { throw new Error("no idea"); };',
      'exit.mjs': 'export default () => process.exit(3);',
      'illegal.mjs': 'export default () => ["1", "2", "3", "4"];',
      'broken.mjs': '// the fault is in the next line\nexport default {{',
      'later.mjs':
        'export default () => { setTimeout(() => { throw new Error("x"); }); return ["3", "1", "2", "4"]; };',
    };
    const paths = Object.entries(modules).map(([name, text]) => write(name, text));
    const out = at('heuristics.csv');
    const args = [
      '--solvers',
      'beam',
      '--heuristic',
      ...paths,
      NEAREST,
      '--seconds',
      '0.6',
      '--grace',
      '0.4',
    ];
    expect(run(at('set/tiny.sop.gz'), ...args, '--out', out)).toMatchObject({ status: 0, stderr: '' });
    const found = Object.fromEntries(
      rowsOf(out).map(({ solver, outcome, best, note }) => [solver, [outcome, best, note]]),
    );
    expect(found).toEqual({
      beam: ['optimal', [7], 'no random choices, one run'],
      'hang.mjs': ['failed', undefined, 'gave no answer in 1 s and was ended'],
      'hang-told.mjs': [expect.any(String), [7], expect.stringContaining('the best order it told of counts')],
      'throw.mjs': ['failed', undefined, 'threw Error: no idea'],
      'exit.mjs': ['failed', undefined, expect.stringContaining('ended its thread')],
      'illegal.mjs': ['failed', undefined, 'node 2 comes before node 3, which must come before it'],
      'broken.mjs': ['failed', undefined, expect.stringMatching(/^threw SyntaxError: .*, at line 2$/)],
      'later.mjs': ['feasible', [19], expect.any(String)],
      'nearest-next.mjs': [expect.any(String), [7], expect.any(String)],
    });
  });

  it('ends after the running row when it is interrupted, and goes on later', async () => {
    const out = at('stopped.csv');
    const args = [
      at('set/tiny.sop.gz'),
      '--heuristic',
      NEAREST,
      '--seeds',
      '1-40',
      '--seconds',
      '0.5',
      '--out',
      out,
    ];
    const child = spawn(process.execPath, [MAIN, 'study', ...args], { stdio: 'ignore' });
    const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
    while (!existsSync(out) || readFileSync(out, 'utf8').split('\n').length < 3)
      await new Promise((resolve) => setTimeout(resolve, 50));
    child.kill('SIGINT');
    expect(await ended).toBe(130);
    const rows = rowsOf(out);
    expect(rows.length).toBeGreaterThan(0);
    expect(rows.length).toBeLessThan(40);
    const seeds = rows.map(({ seed }) => seed);
    expect(seeds).toEqual(seeds.map((_, i) => i + 1));
  });

  it.skipIf(process.platform === 'win32')('keeps its exit code when nobody reads its messages', () => {
    // The messages go to a pipe whose reader has ended; the exit code goes to the output.
    const script =
      '{ { sleep 0.2; "$0" "$1" study none.sop --solvers beam --out x.csv 2>&1 >&3; echo $? >&3; } | true; } 3>&1';
    const ran = spawnSync('sh', ['-c', script, process.execPath, MAIN], { cwd: folder, encoding: 'utf8' });
    expect(ran.stdout).toBe('10\n');
  });

  it('lets a heuristic finish under a limit longer than a timer can wait', () => {
    const one = write('one.mjs', 'export default () => ["1", "3", "2", "4"];');
    const out = at('long.csv');
    // More than 2^31 ms, the most that setTimeout of Node takes.
    const ran = run(at('set/tiny.sop.gz'), '--heuristic', one, '--seconds', '3000000', '--out', out);
    expect(ran).toMatchObject({ status: 0, stderr: '' });
    expect(rowsOf(out).map(({ outcome, best }) => [outcome, best])).toEqual([[expect.any(String), [7]]]);
  });

  it('does not take an instance behind --heuristic for a module', () => {
    const ran = run(at('set'), '--heuristic', NEAREST, RING, '--out', at('none.csv'));
    expect(ran).toMatchObject({ status: 10, stdout: '' });
    expect(ran.stderr).toMatch(/weldment\.yaml: this is no module for --heuristic; .*\n$/);
    expect(existsSync(at('none.csv'))).toBe(false);
  });

  it('says for how many instances the table has no best known cost', () => {
    const table = write('known.csv', 'instance,best_known\nother,10\n');
    const ran = run(
      at('set/tiny.sop.gz'),
      '--solvers',
      'beam',
      '--best-known',
      table,
      '--out',
      at('known-out.csv'),
    );
    expect(ran.stdout).toContain(
      'gap: above the best known cost; for 1 instance that the table does not have, above the best cost among these rows,',
    );
  });

  it('says where the reason of a failed row stands', () => {
    const bad = write('bad.mjs', 'export default () => 42;');
    const ran = run(at('set/tiny.sop.gz'), '--heuristic', bad, '--steps', '9', '--out', at('bad.csv'));
    expect(ran.stdout).toContain('failed: 1 row; the column note of the results says why.');
    // No other run: nothing came of the study, and the exit code says so.
    expect(ran.status).toBe(22);
  });

  it('proposes the command that was misspelt', () => {
    expect(run('sumary', at('x.csv'))).toEqual({
      status: 2,
      stdout: '',
      stderr: 'there is no file "sumary"; maybe the command `tackwright study summary` is meant\n',
    });
    expect(run('mrege', at('x.csv')).stderr).toContain('tackwright study merge');
  });

  it('uses no more threads than the machine has a use for, and says so', () => {
    const args = [at('set/tiny.sop.gz'), '--solvers', 'greedy', '--steps', '9', '--out', at('threads.csv')];
    const ran = run(...args, '--threads', '5000');
    expect(ran.status).toBe(0);
    expect(ran.stderr).toMatch(/^--threads 5000: \d+ are used, 4 for each core of this machine\n$/);
  });

  it('names a bad instance by its line, and runs and writes nothing', () => {
    const cycle = write('cycle.sop', SOP.replace('-1 6 0 -1 1', '-1 6 0 -1 -1'));
    const { status, stdout, stderr } = run(at('set'), cycle, '--solvers', 'beam', '--out', at('none.csv'));
    expect({ status, stdout }).toEqual({ status: 10, stdout: '' });
    expect(stderr).toMatch(
      /^.*cycle\.sop:6: nodes 2 and 4 are each to come before the other; take one of .*\n$/,
    );
    expect(existsSync(at('none.csv'))).toBe(false);
  });

  it('refuses results under other limits, and of another kind', () => {
    const out = at('limits.csv');
    expect(run(at('set'), '--solvers', 'greedy', '--steps', '50', '--out', out).status).toBe(0);
    const before = readFileSync(out, 'utf8');
    const other = run(at('set'), '--solvers', 'greedy', '--steps', '51', '--out', out);
    expect(other).toMatchObject({ status: 10, stdout: '' });
    expect(other.stderr).toMatch(/limits\.csv:2: this row was made with --steps 50 --memory 1024, .*\n$/);
    expect(readFileSync(out, 'utf8')).toBe(before);
    expect(run('merge', RING, '--out', at('x.csv')).status).toBe(10);
  });

  it.each([
    [['--solvers', 'beam']],
    [['--out', 'x.csv']],
    [['--solvers', 'bean', '--out', 'x.csv']],
    [['--solvers', 'beam', '--seeds', 'one', '--out', 'x.csv']],
    [['--solvers', 'beam', '--shard', '3/2', '--out', 'x.csv']],
    [['--solvers', 'beam', '--measure', 'luck', '--out', 'x.csv']],
    [['--solvers', 'beam', '--out', 'set/ring.weldment.yaml']],
  ])('%j is a usage error', (args) => {
    const { status, stdout, stderr } = run('set/ring.weldment.yaml', ...args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).not.toContain('    at ');
    expect(existsSync(at('x.csv'))).toBe(false);
  });
});
