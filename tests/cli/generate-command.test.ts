import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-generate-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};
const at = (name: string): string => join(folder, name);

describe.skipIf(!existsSync(MAIN))('tackwright generate, from dist', () => {
  it('makes an instance that is planned and whose plan is legal; YAML and JSON say the same', () => {
    const [yaml, json, plan] = [at('box.yaml'), at('box.json'), at('plan.json')];
    for (const out of [yaml, json])
      expect(
        run('generate', 'nested-box', '--parts', '14', '--seed', '3', '--blocking', '1', '--out', out),
      ).toEqual({
        status: 0,
        stdout: `Written: ${out}\n`,
        stderr: '',
      });
    expect(readFileSync(yaml, 'utf8').split('\n')[1]).toBe(
      '# tackwright generate nested-box --parts 14 --seed 3 --form abstract --blocking 1 --grippers 3 --single 0.3 --regrips 0.2',
    );
    expect(run('plan', yaml, '--out', plan).status).toBe(0);
    // The digest of what both files say is in the plan.
    expect(run('check', plan, '--weldment', json).status).toBe(0);
  });

  it('writes shapes and a cell that inspect takes without an issue', () => {
    const [weldment, cell] = [at('frame.yaml'), at('frame.cell.yaml')];
    const made = run(
      ...[
        'generate',
        'hollow-section-frame',
        '--parts',
        '8',
        '--form',
        'geometric',
        '--out',
        weldment,
        '--cell',
        cell,
      ],
    );
    expect(made).toEqual({ status: 0, stdout: `Written: ${weldment}\nWritten: ${cell}\n`, stderr: '' });
    const seen = run('inspect', weldment);
    expect([seen.status, seen.stderr]).toEqual([0, '']);
    expect(seen.stdout).toContain('8 parts');
  });

  it.each([
    [['ribbed-bas', '--parts', '8'], 'no family "ribbed-bas": maybe ribbed-base: use one of'],
    [['ribbed-base', '--parts', '5'], '--parts 5: write a whole number from 6 to 200'],
    [['ribbed-base', '--parts', '8', '--blocking', '2'], '--blocking 2: write a number from 0 to 1'],
    [['ribbed-base', '--parts', '8', '--form', 'solid'], '--form solid: use one of abstract, geometric'],
    [
      ['ribbed-base', '--parts', '8', '--form', 'geometric', '--regrips', '0'],
      '--regrips is for --form abstract',
    ],
    [['ribbed-base', '--parts', '8', '--cell', at('c.yaml')], '--cell is for --form geometric'],
  ])('%j is a usage error in one line, and nothing is written', (args, line) => {
    const { status, stdout, stderr } = run('generate', ...args, '--out', at('none.yaml'));
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(line);
    expect(stderr.trimEnd()).not.toContain('\n');
    expect(readdirSync(folder)).not.toContain('none.yaml');
  });

  it('replaces a file only when it is told to', () => {
    const [out, cell] = [at('kept.yaml'), at('kept.cell.yaml')];
    writeFileSync(out, 'mine');
    const geometric = [
      'generate',
      'ribbed-base',
      '--parts',
      '8',
      '--form',
      'geometric',
      '--out',
      out,
      '--cell',
      cell,
    ];
    expect(run(...geometric)).toEqual({
      status: 10,
      stdout: '',
      stderr: `${out}: the file is there already, and was left as it is; give another name, or replace it with --force\n`,
    });
    expect([readFileSync(out, 'utf8'), existsSync(cell)]).toEqual(['mine', false]);
    expect(run(...geometric, '--force').status).toBe(0);
    expect(readFileSync(out, 'utf8')).toContain('weldment:');
    expect(run('generate', 'ribbed-base', '--parts', '8', '--out', '/dev/null').status).toBe(0);
  });

  it('says where it cannot write', () => {
    const { status, stderr } = run('generate', 'ribbed-base', '--parts', '8', '--out', at('no/such.yaml'));
    expect(status).toBe(10);
    expect(stderr).toContain('make it first');
  });
});
