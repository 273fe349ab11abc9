import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
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

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-new-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};
const at = (name: string): string => join(folder, name);

describe.skipIf(!existsSync(MAIN))('tackwright new, from dist', () => {
  it('writes a weldment and a cell, says what next, and that passes without an issue', () => {
    const made = run('new', 'first-stand', '--out', 'made/here');
    expect(made).toEqual({
      status: 0,
      stdout:
        'Written: made/here/first-stand.weldment.yaml\nWritten: made/here/first-stand.cell.yaml\nNext: tackwright inspect made/here/first-stand.weldment.yaml --cell made/here/first-stand.cell.yaml\n',
      stderr: '',
    });
    const seen = run('inspect', 'made/here/first-stand.weldment.yaml');
    expect([seen.status, seen.stderr]).toEqual([0, '']);
  });

  it('writes a weldment without shapes alone, which is planned', () => {
    const made = run('new', 'ring', '--abstract');
    expect(made.stdout).toBe('Written: ring.weldment.yaml\nNext: tackwright inspect ring.weldment.yaml\n');
    expect(existsSync(at('ring.cell.yaml'))).toBe(false);
    const { status, stdout } = run('plan', 'ring.weldment.yaml', '--out', 'ring.plan.json');
    expect([status, stdout.includes('Optimal')]).toEqual([0, true]);
    expect(run('check', 'ring.plan.json', '--weldment', 'ring.weldment.yaml').status).toBe(0);
  });

  it('leaves files that are there as they are, and writes none of the others', () => {
    mkdirSync(at('full'));
    writeFileSync(at('full/mine.cell.yaml'), 'mine');
    const made = run('new', 'mine', '--out', 'full');
    expect(made).toEqual({
      status: 10,
      stdout: '',
      stderr:
        'full/mine.cell.yaml: the file is there already, and was left as it is; give another name, or another folder with --out\n',
    });
    expect(readdirSync(at('full'))).toEqual(['mine.cell.yaml']);
    expect(readFileSync(at('full/mine.cell.yaml'), 'utf8')).toBe('mine');
  });

  it('writes through no link, also one that leads nowhere', () => {
    mkdirSync(at('linked'));
    symlinkSync(at('elsewhere'), at('linked/l.weldment.yaml'));
    expect(run('new', 'l', '--out', 'linked').status).toBe(10);
    expect(existsSync(at('elsewhere'))).toBe(false);
  });

  it('leaves nothing behind where a folder cannot be made or written to', () => {
    writeFileSync(at('file'), '');
    const made = run('new', 'x', '--out', 'file/below');
    expect([made.status, made.stdout]).toEqual([10, '']);
    expect(made.stderr).toMatch(/^file\/below: a file is in the way of this folder; name another folder\n$/);
    if (process.getuid?.() === 0) return; // root writes anywhere
    mkdirSync(at('closed'));
    chmodSync(at('closed'), 0o555);
    expect(run('new', 'x', '--out', 'closed').status).toBe(10);
    expect(readdirSync(at('closed'))).toEqual([]);
  });

  it.each([
    ['../../up', 'up'],
    ['/etc/passwd', 'etc-passwd'],
    ['..\\down', 'down'],
    ['Stand Ä', 'stand-a'],
    ['...', 'weldment'],
    ['42', 'weldment-42'],
  ])('never takes the name %j as a path', (name, file) => {
    const out = at(`names-${file}`);
    expect(run('new', name, '--out', out).status).toBe(0);
    expect(readdirSync(out).sort()).toEqual(['cell', 'weldment'].map((kind) => `${file}.${kind}.yaml`));
  });

  it.each([[''], ['x'.repeat(81)], ['__proto__'], ['a\u0007b'], ['a\u202Eb']])(
    'refuses the name %j',
    (name) => {
      const before = readdirSync(folder);
      const { status, stderr } = run('new', name);
      expect(status).toBe(2);
      expect(stderr).toContain('cannot be the name of a weldment');
      // eslint-disable-next-line no-control-regex
      expect(stderr).not.toMatch(/[\u0007\u202e]/);
      expect(readdirSync(folder)).toEqual(before);
    },
  );
});
