import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { canonicalText } from '../src/io/canonical.js';
import { readInputs } from '../src/session/inputs.js';
import { planInputs } from '../src/session/plan.js';
import { reportPlan } from '../src/session/report.js';
import { hasBrowser, launch, Pages, type Opened } from '../tests/support/browser.js';
import { builtAssets } from '../tests/support/page-assets.js';
import { cellOf } from './grip-density.js';
import { median, row } from './printing.js';

const ROOT = join(import.meta.dirname, '..');
const source = (path: string) => ({ text: readFileSync(join(ROOT, path), 'utf8'), name: path });

/** Seconds for which the view is turned. */
const TURNING = 3;

/** When the page was first painted, seconds after it was asked for; the browser tells that somewhat later. */
async function firstPaint({ page }: Opened): Promise<number> {
  const told = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null";
  for (;;) {
    const milliseconds = (await page.evaluate(told)) as number | null;
    if (milliseconds !== null) return milliseconds / 1000;
    await page.waitForTimeout(50);
  }
}

/** Pictures a second while the view is dragged round and round. */
async function framesWhileTurning({ page }: Opened): Promise<number> {
  const canvas = page.locator('#stage-view canvas');
  await canvas.scrollIntoViewIfNeeded();
  const box = await canvas.boundingBox();
  if (box === null) return 0;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.evaluate(
    'window.frames_ = 0; (function count() { window.frames_ += 1; requestAnimationFrame(count); })()',
  );
  const begun = performance.now();
  let turned = 0;
  while (performance.now() - begun < TURNING * 1000) {
    turned += 1;
    await page.mouse.move(x + 200 * Math.sin(turned / 20), y + 40 * Math.cos(turned / 20));
  }
  const seconds = (performance.now() - begun) / 1000;
  const frames = (await page.evaluate('window.frames_')) as number;
  await page.mouse.up();
  return frames / seconds;
}

/** How large the page of an example is, how soon it is seen, and how smoothly its view turns without a graphics processor. */
export async function pageOfExample(
  programs: LinearPrograms,
  example: string,
  repeats: number,
): Promise<void> {
  if (!hasBrowser) {
    console.log('page of a plan: left out, since there is no Chromium');
    return;
  }
  const sources = {
    weldment: source(`examples/${example}/${example}.weldment.yaml`),
    cell: source(cellOf(example)),
  };
  const planned = planInputs(readInputs(sources).inputs!, { programs });
  if (planned.kind !== 'planned') throw new Error(`${example}: ${planned.kind}`);
  const plan = { text: canonicalText(planned.plan), name: 'plan.json' };
  const assets = await builtAssets();
  const reported = reportPlan(plan, sources, { programs, assets, judge: false, why: false });
  const html = reported.kind === 'reported' ? reported.page : undefined;
  if (html === undefined) throw new Error(`${example}: ${reported.kind}`);
  const browser = await launch();
  const pages = new Pages(browser);
  const painted: number[] = [];
  const frames: number[] = [];
  for (let k = 0; k < repeats; k += 1) {
    const opened = await pages.open(html);
    painted.push(await firstPaint(opened));
    frames.push(await framesWhileTurning(opened));
    await opened.page.context().close();
  }
  await browser.close();
  pages.close();
  row(
    `first paint of the page of ${example}`,
    painted,
    `${(html.length / 1e6).toFixed(2)} MB, ${median(frames).toFixed(0)} pictures a second while the view turns (software rendering)`,
  );
}
