import { spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { barePlan } from '../support/bare-plan.js';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const RING = 'examples/ring-of-six/ring-of-six.weldment.yaml';
const STAND = 'examples/roller-stand/roller-stand.weldment.yaml';
const CELL = 'examples/cells/twin-bench.cell.yaml';
const folder = mkdtempSync(join(tmpdir(), 'tackwright-cli-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};
const at = (name: string): string => join(folder, name);

function write(name: string, text: string): string {
  writeFileSync(at(name), text);
  return at(name);
}

/** The commands are run as users run them, from a build: `npm test` builds first. */
describe.skipIf(!existsSync(MAIN))('the commands, from dist', () => {
  it('help shows commands, examples and exit codes', () => {
    const { status, stdout } = run('--help');
    expect(status).toBe(0);
    for (const word of [
      'plan',
      'check',
      'inspect',
      'export',
      'calibrate',
      'schemas',
      'Examples:',
      '20 proved impossible',
    ])
      expect(stdout).toContain(word);
  });

  it.each([
    [['plan']],
    [['plna', RING]],
    [['plan', RING, '--steps', '0']],
    [['plan', RING, '--steps', '1.5']],
    [['plan', RING, '--seconds', '-1']],
    [['plan', RING, '--trade', 'regrips,speed']],
    [['plan', RING, '--trade', 'time,time']],
    [['check', 'x.json']],
    [['inspect', STAND, '--reach']],
    [['plan', RING, '--out', RING]],
    [['export', RING]],
    [['export', RING, '--pnml', '--checklist']],
    [['export', RING, '--pnml', '--out', RING]],
  ])('%j is a usage error', (args) => {
    const { status, stdout, stderr } = run(...args);
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).not.toContain('    at ');
  });

  it('plans an abstract weldment, checks it, and finds a broken rule in an edited copy', () => {
    const out = at('ring.plan.json');
    const planned = run('plan', RING, '--out', out);
    expect(planned.status).toBe(0);
    expect(planned.stderr).toBe('');
    expect(planned.stdout).toContain('Optimal: 0 regrips, 1 tool change');
    expect(planned.stdout).toContain(`Written: ${out}`);
    expect(run('check', out, '--weldment', RING)).toMatchObject({ status: 0, stderr: '' });
    const plan = JSON.parse(readFileSync(out, 'utf8')) as { stages: { part: string }[] };
    [plan.stages[0]!.part, plan.stages[5]!.part] = [plan.stages[5]!.part, plan.stages[0]!.part];
    const checked = run('check', write('edited.plan.json', JSON.stringify(plan)), '--weldment', RING);
    expect(checked.status).toBe(30);
    expect(checked.stdout).toMatch(/order-relations: stages\[\d\]/);
  });

  it('gives issues, warnings and findings with their codes as data', () => {
    const heavy = write(
      'heavy.yaml',
      'weldment: w\nunits: mm kg N s deg\nparts:\n  base: { block: { length: 60, width: 60, height: 60 }, mass: 40, at: [0, 0, 30] }\n',
    );
    const seen = run('inspect', heavy, '--json');
    expect(seen.status).toBe(0);
    expect(JSON.parse(seen.stdout)).toMatchObject({
      weldment: 'w',
      issues: [{ code: 'mass-unlike-shape', severity: 'warning', line: 4, path: 'parts.base.mass' }],
    });
    const bad = write('bad.yaml', 'weldment: w\nparts: 3\n');
    for (const command of [['inspect'], ['plan']]) {
      const { status, stdout } = run(...command, bad, '--json');
      expect(status).toBe(10);
      expect(JSON.parse(stdout)).toMatchObject({
        kind: 'bad-input',
        issues: [{ code: 'missing' }, { code: 'kind' }],
      });
    }
    const plan = write('bare-ring.plan.json', JSON.stringify(barePlan('base')));
    expect(JSON.parse(run('check', plan, '--weldment', RING, '--json').stdout)).toMatchObject({
      kind: 'judged',
      findings: [{ rule: 'inputs-true' }],
      warnings: [],
    });
    expect(JSON.parse(run('inspect', RING, '--json').stdout)).toMatchObject({ kind: 'abstract', issues: [] });
  });

  it('tells what a code means, and proposes one where it is misspelt', () => {
    expect(run('codes', 'joint-5-limit').stdout).toMatch(
      /^joint-5-limit \(refusal\): joint 5 beyond its limit\n {2}No .*\n {2}What to do: .*\n$/,
    );
    expect(JSON.parse(run('codes', 'payload', '--json').stdout)).toMatchObject({
      code: 'payload',
      kind: 'refusal',
    });
    expect(JSON.parse(run('codes', '--json').stdout)).toContainEqual(
      expect.objectContaining({ code: 'inputs-true', kind: 'finding' }),
    );
    expect(run('codes').stdout).toBe(readFileSync(join(ROOT, 'docs', 'codes.md'), 'utf8'));
    expect(run('codes', 'paylod')).toEqual({
      status: 2,
      stdout: '',
      stderr: 'there is no code "paylod"; maybe payload: `tackwright codes` lists them all\n',
    });
    expect(run('codes', 'mass').stderr).toBe(
      'there is no code "mass"; it is a part of mass-unlike-shape; `tackwright codes` lists them all\n',
    );
    expect(run('codes', 'no-').stderr).toMatch(
      /; it is a part of ([a-z-]*no-[a-z-]+, ){7}[a-z-]*no-[a-z-]+ and \d+ more; /,
    );
  });

  it('prints the same plan byte for byte when it is run again', () => {
    const first = run('plan', RING, '--json').stdout;
    expect(run('plan', RING, '--json').stdout).toBe(first);
    expect(JSON.parse(first)).toMatchObject({
      kind: 'planned',
      plan: { format: 'tackwright-plan', version: 1 },
    });
  });

  it('tells every issue of a bad file in one run, with its line, and writes nothing', () => {
    const bad = write(
      'bad.weldment.yaml',
      [
        'weldment: bad',
        'units: m kg N s deg',
        'parts:',
        '  base: { plate: { length: 300, width: -200, thickness: 10 }, at: [0, 0, 5] }',
        '  rib: { plate: { lenght: 100, width: 50, thickness: 6 }, at: [0, 0, 35], turn: [90, 0, 0] }',
        'joints:',
        '  - { between: [base, ribb], leg: 4 }',
      ].join('\n'),
    );
    const { status, stdout, stderr } = run('plan', bad, '--cell', CELL, '--out', at('bad.plan.json'));
    expect(status).toBe(10);
    expect(stdout).toBe('');
    const lines = stderr.trimEnd().split('\n');
    for (const start of [
      `${bad}:2: units: `,
      `${bad}:4: parts.base.plate.width: `,
      `${bad}:5: parts.rib.plate`,
      `${bad}:7: joints[0].between`,
    ])
      expect(lines.filter((line) => line.startsWith(start)).length, start).toBeGreaterThan(0);
    expect(stderr).toContain('ribb');
    expect(stderr).not.toContain('    at ');
    expect(existsSync(at('bad.plan.json'))).toBe(false);
    expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
  });

  it('names a file that is not there, a folder, and a file that is not text', () => {
    expect(run('plan', at('none.yaml'))).toMatchObject({ status: 10 });
    expect(run('plan', at('none.yaml')).stderr).toContain('there is no such file');
    expect(run('plan', folder).stderr).toContain('this is a folder');
    writeFileSync(at('binary.yaml'), Buffer.from([0xff, 0xfe, 0x00, 0x80]));
    expect(run('plan', at('binary.yaml')).stderr).toContain('not UTF-8');
  });

  it('reads the URDF files that a cell names, below its folder only, and says which it cannot', () => {
    const story = (name: string): string =>
      readFileSync(join(ROOT, 'tests', 'stories', 'arm-by-urdf', name), 'utf8');
    const [weldment, cell] = [write('w.yaml', story('weldment.yaml')), write('c.yaml', story('cell.yaml'))];
    const missing = run('inspect', weldment, '--cell', cell);
    expect(missing).toMatchObject({ status: 10, stdout: '' });
    expect(missing.stderr).toBe(`${at('story-arm.urdf')}: there is no such file; check the path\n`);
    symlinkSync(join(ROOT, 'tests', 'stories', 'arm-by-urdf', 'story-arm.urdf'), at('story-arm.urdf'));
    const led = run('plan', weldment, '--cell', cell);
    expect(led).toMatchObject({ status: 10, stdout: '' });
    expect(led.stderr).toBe(
      `${at('story-arm.urdf')}: this is a link out of the folder of the cell file; copy the file there\n`,
    );
    rmSync(at('story-arm.urdf'));
    write('story-arm.urdf', story('story-arm.urdf'));
    expect(run('plan', weldment, '--cell', cell, '--out', at('story-arm.urdf')).status).toBe(2);
    expect(run('inspect', weldment, '--cell', cell)).toMatchObject({ status: 0, stderr: '' });
  });

  it('exports the programs of a plan, whole or not at all', () => {
    const plan = { ...barePlan('base'), programs: [{ robot: 'handler', duty: 'handle', steps: [] }] };
    const file = write('bare.plan.json', JSON.stringify(plan));
    const printed = run('export', file, '--pnml');
    expect(printed).toMatchObject({ status: 0, stderr: '' });
    expect(printed.stdout).toMatch(/^<\?xml [^]*<place id="r1-p0">[^]*<\/pnml>\n$/);
    const out = at('bare.pnml');
    expect(run('export', file, '--pnml', '--out', out)).toMatchObject({
      status: 0,
      stdout: `Written: ${out}\n`,
    });
    expect(readFileSync(out, 'utf8')).toBe(printed.stdout);
    expect(JSON.parse(run('export', file, '--dry-run').stdout)).toMatchObject({ variant: 'dry-run' });
    expect(run('export', file, '--checklist').stdout).toContain('Single step');
    expect(run('export', file, '--pnml', '--out', at('no/such.pnml'))).toMatchObject({
      status: 10,
      stdout: '',
    });
    expect(run('export', RING, '--pnml')).toMatchObject({ status: 10, stdout: '' });
  });

  it('says that the plan of an abstract weldment has no programs', () => {
    run('plan', RING, '--out', at('abstract.plan.json'));
    const { status, stdout, stderr } = run('export', at('abstract.plan.json'), '--pnml');
    expect({ status, stdout }).toEqual({ status: 10, stdout: '' });
    expect(stderr).toBe(
      `${at('abstract.plan.json')}: kind: the plan of an abstract weldment has no robot programs; export the plan of a weldment with shapes\n`,
    );
  });

  it('asks for a cell when the weldment has shapes', () => {
    const { status, stderr } = run('plan', STAND);
    expect(status).toBe(10);
    expect(stderr).toContain('--cell');
  });

  it('says proved impossible with its scope, and none found with another code', () => {
    const crossed = write(
      'crossed.weldment.yaml',
      [
        'weldment: crossed',
        'units: mm kg N s deg',
        'parts: { a: {}, b: {}, c: {} }',
        'blocking: [{ part: a, by: [b] }, { part: b, by: [a] }]',
      ].join('\n'),
    );
    const impossible = run('plan', crossed, '--out', at('crossed.plan.json'));
    expect(impossible.status).toBe(20);
    expect(impossible.stdout).toContain('No plan exists (proved');
    expect(impossible.stdout).toContain('a cannot come once b is in place');
    expect(impossible.stdout).toContain('b cannot come once a is in place');
    expect(impossible.stdout).not.toContain(' c ');
    expect(impossible.stdout).toContain('Would help');
    const refused = run('plan', crossed, '--no-remedies');
    expect(refused.status).toBe(20);
    expect(refused.stdout).not.toContain('Would help');
    const data = JSON.parse(run('plan', crossed, '--json').stdout) as { remedies: { edits: unknown[] }[] };
    expect(data.remedies[0]!.edits.length).toBe(1);
    expect(existsSync(at('crossed.plan.json'))).toBe(false);
    const none = run('plan', RING, '--steps', '1');
    expect(none.status).toBe(21);
    expect(none.stdout).toContain('no proof');
  });

  it('keeps the best plan so far when it is interrupted', async () => {
    // Far too many grippers and ways for a proof within the test.
    const ways = (i: number): string =>
      [7, 11, 13]
        .map(
          (k) => `{ gripper: g${(i * k + k) % 12}, regrips: ${(i * k) % 3}, seconds: ${(i * k * 5) % 17} }`,
        )
        .join(', ');
    const parts = Array.from({ length: 120 }, (_, i) => `  p${i}: { ways: [${ways(i)}] }`);
    const contacts = Array.from({ length: 119 }, (_, i) => `[p${i + 1}, p${(i * 7) % (i + 1)}]`);
    const large = write(
      'large.weldment.yaml',
      [
        'weldment: large',
        'units: mm kg N s deg',
        'parts:',
        ...parts,
        `contacts: [${contacts.join(', ')}]`,
      ].join('\n'),
    );
    const out = at('large.plan.json');
    const child = spawn(process.execPath, [MAIN, 'plan', large, '--out', out, '--steps', '100000000'], {
      cwd: ROOT,
    });
    const ended = new Promise<number | null>((resolve) => child.on('exit', (code) => resolve(code)));
    await new Promise((resolve) => setTimeout(resolve, 8000));
    child.kill('SIGINT');
    expect(await ended).toBe(130);
    expect(run('check', out, '--weldment', large).status).toBe(0);
  });
});
