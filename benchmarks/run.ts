import { spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { loadLinearPrograms } from '../src/algorithms/linear-program.js';
import { abstractWeldments } from './abstract.js';
import { clearance } from './clearance.js';
import { distortion } from './distortion.js';
import { coverings } from './covering.js';
import { families } from './family.js';
import { explaining, QUICK, VARIANTS } from './explain.js';
import { distortionProxy } from './distortion-proxy.js';
import { cellOf, gripDensity } from './grip-density.js';
import { geometricWeldments } from './geometric.js';
import { inverseSolutions } from './inverse.js';
import { jobShop } from './job-shop.js';
import { pageOfExample } from './page.js';
import { median, row, seconds } from './printing.js';
import { proof } from './proof.js';
import { sequentialOrdering } from './sequential-ordering.js';
import { frames } from './scale.js';
import { statics } from './statics.js';
import { timelines } from './timeline.js';
import { torchSites } from './torch-sites.js';

const ROOT = join(import.meta.dirname, '..');
const repeats = Number(process.argv[2] ?? 5);
/** A look that only shows that everything runs. */
const quick = process.argv[3] === 'quick';

/** Whole process, as a user waits for it: start of node, reading, planning, checking, printing. */
function wholeProcess(name: string, args: readonly string[]): number {
  const times = Array.from({ length: repeats }, () =>
    seconds(() => {
      const { status, stderr } = spawnSync(process.execPath, ['dist/cli/main.js', ...args], {
        cwd: ROOT,
        encoding: 'utf8',
      });
      if (status !== 0) throw new Error(`${name} ended with ${status}: ${stderr}`);
    }),
  );
  row(name, times);
  return median(times);
}

const weldmentOf = (example: string): string => `examples/${example}/${example}.weldment.yaml`;
const planOf = (example: string): readonly string[] => [
  ...['plan', weldmentOf(example), '--cell', cellOf(example)],
];

console.log(
  `Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}, ${repeats} repeats, medians`,
);
const start = wholeProcess('start of the command alone (--help)', ['--help']);
const stand = wholeProcess('plan roller-stand (7 parts), whole process', planOf('roller-stand'));
console.log(`${''.padEnd(53)} ${(stand / start).toFixed(1).padStart(9)}  times the bare start`);
if (!quick) {
  wholeProcess('plan box-beam (5 parts), whole process', planOf('box-beam'));
  wholeProcess('plan ladder-bracket (10 parts), whole process', planOf('ladder-bracket'));
  wholeProcess('plan machine-sub-frame (16 parts), whole process', planOf('machine-sub-frame'));
  wholeProcess('plan ring-of-six (abstract), whole process', ['plan', weldmentOf('ring-of-six')]);
}
abstractWeldments(quick ? { parts: [14], repeats: 1 } : { parts: [14, 25, 40, 60], repeats });
inverseSolutions(quick ? { poses: 50, repeats: 1 } : { poses: 1000, repeats });
await clearance(
  quick ? 'roller-stand' : 'machine-sub-frame',
  quick
    ? { pairs: 200, postures: 50, moves: 2, repeats: 1 }
    : { pairs: 20_000, postures: 5000, moves: 100, repeats },
);
await statics(
  quick
    ? { bodies: [1, 5], repeats: 1, patience: 5 }
    : { bodies: [1, 2, 5, 15, 30], repeats: 4 * repeats, patience: 20 },
);
distortion(quick ? { parts: [5], repeats: 1 } : { parts: [5, 15, 40], repeats });
await jobShop(
  quick
    ? { own: [[3, 3]], published: [], alone: [], repeats: 1, patience: 5 }
    : {
        own: [
          [4, 4],
          [5, 5],
          [6, 5],
        ],
        published: ['ft06', 'la01', 'la02', 'la03', 'la04', 'la05'],
        alone: ['ft10'],
        repeats,
        patience: 60,
      },
);
if (quick) sequentialOrdering({ names: ['ESC07'], patience: 5 });
const programs = await loadLinearPrograms();
await timelines(
  programs,
  quick
    ? { examples: ['roller-stand'], own: [], repeats: 1, patience: 5 }
    : {
        examples: ['roller-stand', 'box-beam', 'ladder-bracket', 'machine-sub-frame'],
        own: [
          [2, 100, 20],
          [3, 150, 30],
          [4, 200, 60],
        ],
        repeats,
        patience: 60,
      },
);
geometricWeldments(
  programs,
  quick ? { parts: [3], patience: 60, steps: 30 } : { parts: [8, 20, 40], patience: 60 },
);
frames(quick ? 2 : 20, quick ? 30 : undefined);
proof(
  programs,
  quick ? 'roller-stand' : 'machine-sub-frame',
  quick ? [50, 10] : [1000, 100],
  quick ? 1 : repeats,
);
coverings(
  programs,
  quick ? ['ladder-bracket'] : ['roller-stand', 'box-beam', 'ladder-bracket', 'machine-sub-frame'],
  quick ? 1 : repeats,
);
torchSites(programs, [quick ? 'roller-stand' : 'machine-sub-frame'], quick ? 1 : repeats);
distortionProxy(
  programs,
  quick ? ['box-beam'] : ['roller-stand', 'box-beam', 'ladder-bracket', 'machine-sub-frame'],
  quick ? 3 : 40,
);
gripDensity(programs, quick ? ['box-beam'] : undefined);
if (quick) explaining(programs, 'box-beam', QUICK, 1);
else explaining(programs, 'ladder-bracket', VARIANTS, repeats);
await pageOfExample(programs, quick ? 'box-beam' : 'machine-sub-frame', repeats);
await families(quick ? 'ladder-bracket' : 'roller-stand', 2, quick ? { most: 2 } : {});
if (!quick) await families('roller-stand', 2, { quick: true });
