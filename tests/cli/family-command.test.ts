import { spawn, spawnSync } from 'node:child_process';
import {
  cpSync,
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
import { filesOfVariants } from '../../src/cli/family-files.js';
import * as tackwright from '../../src/index.js';
import { familyResultSchema } from '../../src/model/family-result.js';
import { planSchema } from '../../src/model/plan.js';
import { workbook } from '../support/workbook.js';

const ROOT = join(import.meta.dirname, '..', '..');
const MAIN = join(ROOT, 'dist', 'cli', 'main.js');
const CELL = join(ROOT, 'tests/stories/bench.cell.yaml');
const folder = mkdtempSync(join(tmpdir(), 'tackwright-family-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string): string => join(folder, name);
function write(name: string, content: string | Uint8Array): string {
  writeFileSync(at(name), content);
  return name;
}
const argumentsOf = (args: readonly string[]): string[] => [MAIN, 'family', ...args, '--cell', CELL];
const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, argumentsOf(args), {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
};

/** A block on a block, our own invention; `variants` as they stand in the file. */
const family = (variants: string): string => `family: cube-on-base
units: mm kg N s deg
parameters:
  height: { default: 60, unit: mm }
base:
  parts:
    base: { block: { length: 120, width: 100, height: 20 }, at: [0, 0, 10] }
    cube: { block: { length: 60, width: 60, height: =height }, at: [0, 0, =20 + height / 2] }
  joints:
    - { between: [base, cube], sides: both }
  first: base
variants: ${variants}
`;
const table = (...rows: string[]): string => ['name,height', ',mm', ...rows, ''].join('\n');

/** Every file of a result by its name, but not what is kept for the next call. */
const filesIn = (out: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(at(out), { recursive: true, encoding: 'utf8' })
      .filter((file) => /\.\w+$/.test(file) && !file.startsWith('tasks'))
      .sort()
      .map((file) => [file, readFileSync(join(at(out), file), 'utf8')]),
  );

/** Runs until so many tasks are kept, and interrupts then. */
async function interrupted(tasks: string, many: number, ...args: string[]): Promise<[number | null, string]> {
  const child = spawn(process.execPath, argumentsOf(args), { cwd: folder });
  let told = '';
  child.stderr.on('data', (data: Buffer) => (told += data.toString()));
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  const kept = (): number =>
    existsSync(at(tasks)) ? readdirSync(at(tasks)).filter((file) => file.endsWith('.json')).length : 0;
  while (kept() < many && child.exitCode === null) await new Promise((resolve) => setTimeout(resolve, 20));
  child.kill('SIGINT');
  return [await ended, told];
}

/** The command is run as users run it, from a build: `npm test` builds first. */
describe.skipIf(!existsSync(MAIN))('tackwright family, from dist', () => {
  write('heights.csv', table('low,40', '"a/b, of 60",60', 'tower,900'));
  const file = write('cubes.family.yaml', family('{ file: heights.csv }'));

  it('plans, is interrupted and taken up, and comes to the same', async () => {
    const [code, told] = await interrupted('half/tasks', 1, file, '--out', 'half', '--threads', '1');
    expect([code, readdirSync(at('half'))]).toEqual([130, ['tasks']]);
    expect(told).toMatch(/^interrupted: \d plans? kept in half\/tasks; the same call goes on from there$/m);

    const whole = run(file, '--out', 'whole', '--threads', '2');
    expect(whole).toMatchObject({ status: 0, stderr: '' });
    expect(whole.stdout).toContain('The one pattern that was found builds 2 of 3 variants.');
    expect(whole.stdout).toMatch(/- tower: no plan exists: .*payload/);
    expect(whole.stdout).toMatch(/^Written: whole \(\d+ files; 3 plans asked for\)$/m);
    const files = filesIn('whole');
    const result = familyResultSchema.parse(JSON.parse(files['family.json']!));
    const named = result.variants.flatMap(({ weldmentFile, own }) => [weldmentFile!, own?.file ?? null]);
    const followed = result.matrix.flatMap(({ figures }) => figures?.file ?? []);
    expect(Object.keys(files)).toEqual(expect.arrayContaining(['family.html', 'matrix.csv', 'variants.csv']));
    expect(files['family.html']).toContain('a/b, of 60');
    expect(Object.keys(files).filter((name) => name.startsWith('variants/'))).toEqual(
      [...new Set([...named.filter((name) => name !== null), ...followed])].sort(),
    );
    expect(Object.keys(files).find((name) => name.includes('a-b-of-60-'))).toBeDefined();
    expect(planSchema.safeParse(JSON.parse(files['variants/low.own.plan.json']!)).success).toBe(true);

    const again = run(file, '--out', 'half', '--threads', '2');
    expect(again.stdout).toMatch(/3 plans asked for, [12] of them there before\)$/m);
    expect(filesIn('half')).toEqual(files);
  });

  it('comes to what the library comes to where it is called, one plan after the other', async () => {
    const source = (name: string, path: string) => ({ name, text: readFileSync(path, 'utf8') });
    const outcome = await tackwright.family(
      {
        family: source(file, at(file)),
        beside: { 'heights.csv': readFileSync(at('heights.csv'), 'utf8') },
        cell: source(CELL, CELL),
      },
      { programs: await tackwright.loadLinearPrograms(), files: filesOfVariants },
    );
    if (outcome.kind !== 'planned') throw new Error(outcome.kind);
    expect(tackwright.canonicalText(outcome.result)).toBe(filesIn('whole')['family.json']);
    expect(await tackwright.family({ family: { name: 'x', text: 'family: [' } }, {} as never)).toMatchObject({
      kind: 'bad-input',
    });
  });

  it('plans anew what is broken or has changed, and only that', () => {
    cpSync(at('whole'), at('next'), { recursive: true });
    const kept = readdirSync(at('next/tasks')).map((name) => join(at('next/tasks'), name));
    const tower = kept.find((name) => readFileSync(name, 'utf8').includes('"impossible"'))!;
    writeFileSync(tower, readFileSync(tower, 'utf8').slice(0, -20));
    expect(run(file, '--out', 'next').stdout).toContain('2 of them there before');
    expect(filesIn('next')).toEqual(filesIn('whole'));
    write('heights.csv', table('low,40', '"a/b, of 60",60', 'tower,901'));
    expect(run(file, '--out', 'next').stdout).toContain('2 of them there before');
    expect(run(file, '--out', 'next', '--json').stdout).toBe(readFileSync(at('next/family.json'), 'utf8'));
    write('heights.csv', table('low,40', '"a/b, of 60",60', 'tower,900'));
  });

  it('says by its exit code and a reason that no variant can be built; tables may be workbooks', async () => {
    const rows = [
      ['name', 'height'],
      ['tower', 900],
    ];
    const book = write('towers.xlsx', await workbook({ heights: rows }));
    const towers = write('towers.family.yaml', family(`{ file: ${book} }`));
    const { status, stdout, stderr } = run(towers);
    expect([status, stderr]).toEqual([20, '']);
    expect(stdout).toContain('Nothing builds any of 1 variant.');
  });

  it.each([
    ['a variant with overlapping parts', '[{ name: flat, height: 60 }, { name: thin, height: -5 }]', /thin/],
    ['a table that is not there', '{ file: none.csv }', /none\.csv: there is no such file/],
    ['a table out of the folder', '{ file: link.csv }', /link out of the folder of the family file/],
  ])('refuses %s in a line and makes no folder', (_, variants, line) => {
    if (!existsSync(at('link.csv'))) symlinkSync(join(ROOT, 'package.json'), at('link.csv'));
    const bad = write('bad.family.yaml', family(variants));
    const { status, stdout, stderr } = run(bad, '--out', 'never');
    expect([status, stdout]).toEqual([10, '']);
    expect(stderr).toMatch(line);
    expect(stderr).not.toContain('    at ');
    expect(existsSync(at('never'))).toBe(false);
    expect(JSON.parse(run(bad, '--json').stdout)).toMatchObject({ kind: 'bad-input' });
  });

  it('wants a cell, and never writes over its inputs', () => {
    const { status, stderr } = spawnSync(process.execPath, [MAIN, 'family', file], {
      cwd: folder,
      encoding: 'utf8',
    });
    expect([status, stderr]).toEqual([
      10,
      expect.stringContaining('needs a cell; give one with --cell FILE'),
    ]);
    mkdirSync(at('apart'));
    write('apart/variants.csv', table('low,40'));
    const inside = write('apart/cubes.family.yaml', family('{ file: variants.csv }'));
    const clash = run(inside, '--out', 'apart');
    expect(clash.status).toBe(2);
    expect(clash.stderr).toContain('would overwrite the input');
    expect(readFileSync(at('apart/variants.csv'), 'utf8')).toBe(table('low,40'));
  });
});
