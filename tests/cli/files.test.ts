import { spawnSync } from 'node:child_process';
import {
  closeSync,
  lstatSync,
  mkdtempSync,
  openSync,
  readFileSync,
  readSync,
  readdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { isDevice, unwritable, writeWhole } from '../../src/cli/files.js';
import { issueLine } from '../../src/model/issue.js';

const folder = mkdtempSync(join(tmpdir(), 'tackwright-files-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string): string => join(folder, name);
const HAS_PIPES = process.platform !== 'win32' && spawnSync('mkfifo', [at('pipe')]).status === 0;

describe('writeWhole', () => {
  it.skipIf(!HAS_PIPES)('writes into what is no file, and leaves it what it is', () => {
    // Open for both, so that neither side waits for the other.
    const pipe = openSync(at('pipe'), 'r+');
    expect(writeWhole(at('pipe'), 'to whom it may concern').ok).toBe(true);
    const bytes = Buffer.alloc(64);
    expect(bytes.toString('utf8', 0, readSync(pipe, bytes))).toBe('to whom it may concern');
    closeSync(pipe);
    expect(lstatSync(at('pipe')).isFIFO()).toBe(true);
    expect(isDevice(at('pipe'))).toBe(true);
  });

  it('writes the file that a link points to, and keeps the link', () => {
    writeFileSync(at('real.txt'), 'old');
    symlinkSync('real.txt', at('link.txt'));
    expect(writeWhole(at('link.txt'), 'new').ok).toBe(true);
    expect(lstatSync(at('link.txt')).isSymbolicLink()).toBe(true);
    expect(readFileSync(at('real.txt'), 'utf8')).toBe('new');
    expect(isDevice(at('link.txt'))).toBe(false);
  });

  it('leaves nothing behind where it cannot write', () => {
    const before = readdirSync(folder);
    expect(writeWhole(at('no/such.txt'), 'x').ok).toBe(false);
    expect(readdirSync(folder)).toEqual(before);
  });
});

describe('unwritable', () => {
  it.each([
    ['', '"": the name of the file is empty; give one'],
    [`${folder}/new/`, `${folder}/new/: this is a folder; name a file in it`],
    [folder, `${folder}: this is a folder; name a file in it`],
  ])('says what is wrong with %j', (file, line) => {
    expect(issueLine(unwritable(file)!)).toBe(line);
  });

  it('has nothing against a new file in a folder that is there', () => {
    expect(unwritable(at('new.txt'))).toBeUndefined();
  });
});
