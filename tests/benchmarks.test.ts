import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');

/** Only that they run; what they measure is printed and never asserted. */
it.skipIf(!existsSync(join(ROOT, 'dist', 'cli', 'main.js')))(
  'the benchmarks run',
  () => {
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
      /torch-site table of roller-stand, 7 parts +\d+\.\d+ m?s +(\d+) of \1 sites, \d+ torch ways/,
    );
    expect(stdout).toMatch(
      /inverse, 50 poses, closed form, every branch +[\d.]+ m?s +\d+ solutions\/s, \d+ for 50 of 50 poses/,
    );
    expect(stdout).toMatch(
      /one solution each by damped least squares +[\d.]+ m?s +\d+ x the time, \d+ of 50 poses/,
    );
    expect(stdout).toMatch(
      /interleavings of 3 free programs of 10 events +[\d.]+ m?s +1331 states, \d+ states\/s/,
    );
    expect(stdout).toMatch(
      /proof of roller-stand, 7 parts +[\d.]+ m?s +\d+ handshakes, \d+ states, 0 findings/,
    );
    expect(stdout).toMatch(
      /covering programs of ladder-bracket +[\d.]+ m?s +\d+ programs, \d+ items at most, \d+ programs\/s/,
    );
    expect(stdout).toMatch(
      / {2}the same by HiGHS +[\d.]+ m?s +[\d.]+ x the time, the same cost in (\d+) of \1/,
    );
    expect(stdout).toMatch(/distance of capsule and box, 200 pairs +[\d.]+ m?s +\d+ distances\/s/);
    expect(stdout).toMatch(
      /the same by rapier3d +[\d.]+ m?s +[\d.]+ x the time, \d+ of 200 within a hundredth/,
    );
    expect(stdout).toMatch(/ {2}50 postures +[\d.]+ m?s +\d+ postures\/s, \d+ meet some/);
    expect(stdout).toMatch(/ {2}2 joint moves by bisection +[\d.]+ m?s +\d+ moves\/s/);
    expect(stdout).toMatch(
      /the same every 2 mm, \d+ postures a move +[\d.]+ m?s +[\d.]+ x the time, 0 parts met only here/,
    );
    expect(stdout).toMatch(/statics, one part, set of 17 loads +\d+\.\d+ m?s +\d+ sets\/s/);
    expect(stdout).toMatch(
      /distortion, 5 parts, \d+ tacks one by one +[\d.]+ m?s +\d+ steps\/s, [\d.]+ solves each/,
    );
    expect(stdout).toMatch(/the same by ml-matrix +[\d.]+ m?s +[\d.]+ x the time, the same answer/);
    expect(stdout).toMatch(
      /distortion of box-beam, \d+ random orders +[\d.]+ m?s +full engine, [\d.]+ to [\d.]+ mm/,
    );
    expect(stdout).toMatch(
      / {2}estimate of the search, each move once +[\d.]+ m?s +Spearman \S+, Kendall \S+/,
    );
    expect(stdout).toMatch(
      /minimal set of box-beam: two parts block each other +[\d.]+ m?s +2 facts \(2 needed\)/,
    );
    expect(stdout).toMatch(
      /first paint of the page of box-beam +[\d.]+ m?s +[\d.]+ MB, \d+ pictures a second|page of a plan: left out/,
    );
    expect(stdout).toMatch(/( {2}ESC07 +9 +2125 +2125 +2125 |sequential ordering, sop-tsplib: left out)/);
    expect(stdout).toMatch(
      /first plan of 3 blocks on a base +[\d.]+ m?s +\d+ steps; checked plan of 3 stages after [\d.]+ s, \w+, \d+ steps: regrips/,
    );
    expect(stdout).toMatch(/job-shop 3 x 3 of our own, scheduler +[\d.]+ m?s +optimal, makespan \d+/);
    expect(stdout).toMatch(
      /the same by HiGHS, mixed-integer with big M +[\d.]+ m?s +[\d.]+ x the time, the same makespan/,
    );
  },
  900_000,
);
