import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readWeldment } from '../../src/io/read-weldment.js';
import { workbook } from '../support/workbook.js';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const EXAMPLE = join(ROOT, 'examples', 'tables', 'cable-tray.parts.csv');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-import-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, 'import', ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};
const at = (name: string): string => join(folder, name);

describe.skipIf(!existsSync(MAIN))('tackwright import of tables, from dist', () => {
  it('writes the weldment of the example, and never over a file unless it is told to', () => {
    const args = [EXAMPLE, '--joints', EXAMPLE.replace('parts', 'joints'), '--out', 'tray.weldment.yaml'];
    expect(run(...args)).toEqual({
      status: 0,
      stdout:
        '4 parts, 3 contacts, 3 joints (given)\nWritten: tray.weldment.yaml\nLook it through, then: tackwright inspect tray.weldment.yaml\n',
      stderr: '',
    });
    const { value, issues } = readWeldment(readFileSync(at('tray.weldment.yaml'), 'utf8'), 'tray');
    expect(issues).toEqual([]);
    expect([value?.name, value?.parts.length]).toEqual(['cable-tray', 4]);
    writeFileSync(at('tray.weldment.yaml'), 'mine');
    expect(run(...args)).toEqual({
      status: 10,
      stdout: '',
      stderr:
        'tray.weldment.yaml: the file is there already, and was left as it is; give another name, or replace it with --force\n',
    });
    expect(run(...args, '--force').status).toBe(0);
    expect(readFileSync(at('tray.weldment.yaml'), 'utf8')).toContain('weldment: cable-tray');
  });

  it('reads parts and joints from two sheets of a workbook, and tells an overlap by its row', async () => {
    const parts = [
      ['part', 'shape', 'length', 'width', 'height', 'x', 'y', 'z'],
      ['units', undefined, 'mm', 'mm', 'mm', 'mm', 'mm', 'mm'],
      ['foot', 'block', 100, 100, 20, 0, 0, 10],
      ['post', 'block', 40, 40, 80, 0, 0, 59],
    ];
    const joints = [
      ['a', 'b', 'leg'],
      [undefined, undefined, 'mm'],
      ['foot', 'post', 5],
    ];
    writeFileSync(at('stand.xlsx'), await workbook({ notes: [['x']], Parts: parts, Joints: joints }));
    const { status, stdout, stderr } = run('stand.xlsx');
    expect([status, stderr]).toEqual([
      0,
      'stand.xlsx [Parts]:4: part: warning: post and foot overlap by 1 mm; correct a size, `at` or `turn` so that they touch or leave a gap\n',
    ]);
    expect(stdout).toContain('made of stand.xlsx [Parts] and stand.xlsx [Joints]');
    expect(stdout).toContain('- {between: [foot, post], leg: 5}');
  });

  it('proposes joints where none are given', () => {
    const { status, stdout } = run(EXAMPLE);
    expect(status).toBe(0);
    expect(stdout).toContain('# proposed from the contacts');
    expect(stdout).toMatch(/between: \[base, rail\].*# 2 seams: 160 mm, 160 mm/);
    expect(readWeldment(stdout, 'out').issues).toEqual([]);
  });

  it('tells every issue of both tables in one run and writes nothing', () => {
    writeFileSync(at('bad.csv'), 'part,shape,x,y,z\nunits,,mm,mm,m\na,plate,0,0,0\n');
    writeFileSync(at('worse.csv'), 'a;b;leg\n;;cm\nx;y;"1\n');
    const { status, stdout, stderr } = run('bad.csv', '--joints', 'worse.csv', '--out', 'bad.weldment.yaml');
    expect([status, stdout, existsSync(at('bad.weldment.yaml'))]).toEqual([10, '', false]);
    expect(stderr).toBe(
      'worse.csv:3: a quotation mark is not closed or stands inside a plain field; write "..." round the whole field, and two marks for one inside it\n',
    );
    writeFileSync(at('worse.csv'), 'a;b;leg\n;;cm\nx;y;1\n');
    expect(run('bad.csv', '--joints', 'worse.csv').stderr).toBe(
      'bad.csv:2: z: the unit is "m"; multiply by 1000 in the table and write mm\nworse.csv:2: leg: the unit is "cm"; multiply by 10 in the table and write mm\n',
    );
    expect(run('none.xlsx').stderr).toBe('none.xlsx: there is no such file; check the path\n');
    expect(run('bad.csv', '--out', 'bad.csv', '--force').stderr).toContain('it is an input');
  });
});
