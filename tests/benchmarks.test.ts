import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');

/** Only that they run; what they measure is printed and never asserted. */
it.skipIf(!existsSync(join(ROOT, 'dist', 'cli', 'main.js')))('the benchmarks run', () => {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['--import', 'tsx', 'benchmarks/run.ts', '1', 'quick'],
    {
      cwd: ROOT,
      encoding: 'utf8',
    },
  );
  expect(stderr).toBe('');
  expect(status).toBe(0);
  expect(stdout).toMatch(/plan roller-stand \(7 parts\), whole process +\d+\.\d+ s/);
  expect(stdout).toMatch(
    /torch-site table of roller-stand, 7 parts +\d+\.\d+ m?s +91 of 91 sites, 819 torch ways/,
  );
  expect(stdout).toMatch(/statics, one part, set of 17 loads +\d+\.\d+ m?s +\d+ sets\/s/);
});
