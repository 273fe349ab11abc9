import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { importCommand } from '../../src/cli/import-command.js';
import type { ImportFlags } from '../../src/cli/import-flags.js';
import { readStepSolids } from '../../src/cli/step-library.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { NO_TURN } from '../../src/geometry/pose.js';
import { StepFile } from '../support/step-file.js';
import { rectangle } from '../support/step-strokes.js';

const folder = mkdtempSync(join(tmpdir(), 'tackwright-step-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
afterEach(() => vi.restoreAllMocks());

const at = (name: string): string => join(folder, name);

/** The command as the terminal sees it. */
async function run(file: string, flags: ImportFlags = {}) {
  const [out, err]: [string[], string[]] = [[], []];
  const to = (list: string[]) => (text: string | Uint8Array) => list.push(String(text)) > 0;
  vi.spyOn(process.stdout, 'write').mockImplementation(to(out));
  vi.spyOn(process.stderr, 'write').mockImplementation(to(err));
  const status = await importCommand(file, flags);
  vi.restoreAllMocks();
  return { status, stdout: out.join(''), stderr: err.join('').replaceAll(`${folder}/`, '') };
}

function put(name: string, content: string | Uint8Array): string {
  writeFileSync(at(name), content);
  return at(name);
}

function stand(): string {
  const file = new StepFile();
  file.part('base', [file.prism([rectangle(200, 120)], 10)]);
  file.part('post', [file.prism([rectangle(60, 60)], 90, { at: [0, 0, 10], turn: NO_TURN })]);
  return file.text();
}

describe('tackwright import of a STEP file', () => {
  it('writes a weldment file that reads back, once', async () => {
    const step = put('stand.STEP', stand());
    const out = at('stand.weldment.yaml');
    expect(await run(step, { out })).toEqual({
      status: 0,
      stdout: `2 parts, 1 contact, 1 joint (proposed)\nWritten: ${out}\nLook it through, then: tackwright inspect ${out}\n`,
      stderr: '',
    });
    const text = readFileSync(out, 'utf8');
    const read = readWeldment(text, out);
    expect([read.value?.name, read.value?.joints?.length, read.issues]).toEqual(['stand', 1, []]);

    const again = await run(step, { out });
    expect(again).toMatchObject({ status: 10, stdout: '' });
    expect(again.stderr).toMatch(/^stand\.weldment\.yaml: the file is there already/);
    expect((await run(step, { out, force: true, name: 'other' })).status).toBe(0);
    expect(readFileSync(out, 'utf8')).toBe(text.replace('weldment: stand', 'weldment: other'));
  });

  it('prints it without --out', async () => {
    const { status, stdout } = await run(put('printed.stp', stand()));
    expect(status).toBe(0);
    expect(stdout).toMatch(/^# Made of the solids of printed\.stp/);
  });

  it('refuses what is asked for wrongly', async () => {
    const step = put('asked.stp', stand());
    expect(await run(step, { joints: 'joints.csv' })).toMatchObject({ status: 2, stdout: '' });
    expect(await run(step, { name: 'a\u001b[2J' })).toMatchObject({
      status: 2,
      stderr: '"a\\u001b[2J" cannot be the name of a weldment: give 1 to 80 printable characters\n',
    });
    expect((await run(step, { out: step, force: true })).stderr).toContain(
      'it is an input: give another name',
    );
    expect((await run(step, { out: at('none/a.yaml') })).stderr).toContain('there is no folder');
    expect(readFileSync(step, 'utf8')).toBe(stand());
  });

  it('tells files that are none in one line each and writes nothing', async () => {
    const begun = stand();
    const cases: readonly (readonly [string, string | Uint8Array, RegExp])[] = [
      ['empty.stp', '', /does not begin with `ISO-10303-21;`/],
      ['text.stp', 'solid cube\nfacet', /does not begin with `ISO-10303-21;`/],
      ['packed.stp', new Uint8Array([80, 75, 3, 4, 255, 0, 254]), /does not begin with `ISO-10303-21;`/],
      ['torn.stp', begun.slice(0, begun.length / 2), /the file cannot be read as STEP, or has no shapes/],
      ['head.stp', 'ISO-10303-21;', /the file cannot be read as STEP, or has no shapes/],
      [
        'bare.stp',
        begun.replace(/DATA;[^]*ENDSEC;/, 'DATA;\nENDSEC;'),
        /cannot be read as STEP, or has no shapes/,
      ],
      [
        'hollow.stp',
        begun.replaceAll(/MANIFOLD_SOLID_BREP/g, 'NO_SUCH_ENTITY'),
        /the file cannot be read as STEP, or has no shapes|the file has no solids/,
      ],
    ];
    const before = readdirSync(folder).length + cases.length;
    for (const [name, content, problem] of cases) {
      const { status, stdout, stderr } = await run(put(name, content), { out: at('never.yaml') });
      expect([name, status, stdout]).toEqual([name, 10, '']);
      expect(stderr).toMatch(problem);
      expect(stderr.split('\n')).toHaveLength(2);
    }
    expect((await run(at('missing.stp'))).stderr).toBe(
      'missing.stp: there is no such file; check the path\n',
    );
    expect(readdirSync(folder)).toHaveLength(before);
  });

  it('says what is to be mended, and writes the file all the same', async () => {
    const file = new StepFile();
    file.part('one', [file.prism([rectangle(100, 60)], 10)]);
    file.part('far', [file.prism([rectangle(100, 60)], 10, { at: [150, 0, 0], turn: NO_TURN })]);
    const { status, stderr } = await run(put('far.stp', file.text()), { out: at('far.yaml') });
    expect(status).toBe(0);
    expect(stderr.split('\n')).toEqual([
      expect.stringMatching(/^far\.yaml:\d+: parts\.far: warning: far is joined to no other part; /),
      expect.stringMatching(/^far\.yaml:\d+: parts\.one: warning: one is joined to no other part; /),
      '',
    ]);
    expect(readFileSync(at('far.yaml'), 'utf8')).toContain('\n  far: ');
  });

  it('shows names and comments of a hostile file with nothing that a terminal obeys', async () => {
    const file = new StepFile();
    file.part('x\u001b[31m\u202e', [
      file.polyhedron(
        [
          [0, 0, 0],
          [9, 0, 0],
          [0, 9, 0],
          [0, 0, 9],
        ],
        [
          [0, 2, 1],
          [0, 1, 3],
          [1, 2, 3],
          [2, 0, 3],
        ],
      ),
    ]);
    file.part('y\nparts: {}', [file.prism([rectangle(100, 60)], 10)]);
    const { status, stdout, stderr } = await run(put('hostile.stp', file.text()));
    expect(status).toBe(0);
    expect(stderr).toContain('x [31m: warning:');
    for (const mark of ['\u001b', '\u202e']) expect(`${stdout}${stderr}`).not.toContain(mark);
    expect(
      Object.keys((readWeldment(stdout, 'a').value as unknown as { parts: object[] }).parts),
    ).toHaveLength(1);
  });
});

describe('the import library', () => {
  it('is asked for in one line where it is not installed', async () => {
    const missing = Object.assign(new Error('none'), { code: 'ERR_MODULE_NOT_FOUND' });
    const solids = await readStepSolids(new Uint8Array(), () => Promise.reject(missing));
    expect(solids).toEqual({ ok: false, error: 'missing' });
  });

  it('may break down over a file, which is no defect of ours; a fault in loading it is', async () => {
    const library = {
      ReadStepFile: () => {
        throw 17;
      },
    };
    const broken = await readStepSolids(new Uint8Array(), () =>
      Promise.resolve({ default: () => Promise.resolve(library) }),
    );
    expect(broken).toEqual({ ok: false, error: 'broken' });
    await expect(readStepSolids(new Uint8Array(), () => Promise.reject(new Error('disk')))).rejects.toThrow(
      'disk',
    );
  });
});
