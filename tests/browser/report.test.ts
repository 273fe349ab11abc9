import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { GeometricPlan } from '../../src/model/plan.js';
import { hasBrowser, launch, Pages } from '../support/browser.js';
import { example, Planner } from '../support/planned.js';
import { pageOf } from '../support/report-pages.js';

if (!hasBrowser)
  console.warn('Skipped: all tests of pages in a browser, since there is no Chromium (Debian: chromium).');

/** What axe-core finds that people would be kept out by. */
interface AxeFound {
  readonly violations: readonly {
    readonly id: string;
    readonly impact: string | null;
    readonly nodes: readonly { readonly html: string }[];
  }[];
}

const CANVAS = '#stage-view canvas';
const MOMENT = '#stage-view-moment';
const PANEL = '.picked-panel';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Rules of WCAG 2.2 A and AA, and axe's own of good practice, that the page breaks seriously. */
async function seriousFaults(page: Page): Promise<readonly string[]> {
  await page.evaluate(AXE);
  const { violations } = (await page.evaluate('axe.run()')) as AxeFound;
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .slice(0, 3)
          .map(({ html }) => html)
          .join(' | ')}`,
    );
}

const widthOf = (page: Page): Promise<number> =>
  page.evaluate('document.documentElement.scrollWidth') as Promise<number>;

describe.skipIf(!hasBrowser)('the page of a plan in a browser', () => {
  let browser: Browser;
  let pages: Pages;
  let plan: GeometricPlan;
  let html: string;

  beforeAll(async () => {
    browser = await launch();
    pages = new Pages(browser);
    const made = await pageOf(example('roller-stand'), await Planner.load());
    plan = made.plan as GeometricPlan;
    ({ html } = made);
  });
  afterAll(async () => {
    await browser?.close();
    pages?.close();
  });

  it('opens without a complaint and asks nobody for anything', async () => {
    const { page, complaints, requests } = await pages.open(html);
    expect(await page.title()).toContain(plan.weldment.name);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
  });

  it.each([360, 1920, 3840])('is no wider than a window of %i pixels', async (width) => {
    const { page } = await pages.open(html, { viewport: { width, height: 900 } });
    expect(await widthOf(page)).toBeLessThanOrEqual(width);
  });

  it.each(['light', 'dark'] as const)(
    'has no serious fault of accessibility when it is %s',
    async (colorScheme) => {
      const { page } = await pages.open(html, { colorScheme });
      expect(await seriousFaults(page)).toEqual([]);
    },
  );

  it('goes through all stages by keys, and says which', async () => {
    const { page, complaints } = await pages.open(html);
    await page.locator(CANVAS).focus();
    await page.keyboard.press('Home');
    const said: string[] = [];
    for (const { number, part } of plan.stages) {
      await page.keyboard.press('PageDown');
      said.push((await page.locator(MOMENT).textContent()) ?? '');
      expect(said.at(-1)).toContain(`Stage ${number} of ${plan.stages.length}: ${part}`);
    }
    expect(new Set(said).size).toBe(plan.stages.length);
    expect(complaints).toEqual([]);
  });

  it('goes through every single step, up to the end of the plan', async () => {
    const { page } = await pages.open(html);
    await page.locator(CANVAS).focus();
    await page.keyboard.press('Home');
    const starts = plan.programs.flatMap(({ steps }) => steps.map(({ start }) => start));
    const seen: number[] = [];
    for (;;) {
      const now = Number.parseFloat((await page.locator(MOMENT).textContent())!);
      await page.keyboard.press('.');
      if (now === seen.at(-1) && now > plan.timeline.makespan - 0.1) break;
      seen.push(now);
    }
    // What is shown is rounded to a tenth of a second.
    const missed = starts.filter((start) => !seen.some((now) => Math.abs(now - start) < 0.06));
    expect(missed).toEqual([]);
  });

  it('shows what is clicked, in the picture, in the timeline and in tables alike', async () => {
    const { page } = await pages.open(html);
    const canvas = page.locator(CANVAS);
    await canvas.focus();
    await page.keyboard.press('End');
    await page.keyboard.press('f');
    await page.waitForTimeout(500);
    await canvas.click();
    const title = await page.locator(`${PANEL} h3`).textContent();
    const named = [...plan.stages.map(({ part }) => part), ...plan.joints.map(({ id }) => id)];
    expect(
      named.some((name) => title!.includes(name)),
      title!,
    ).toBe(true);
    const other = plan.stages.findIndex(({ part }) => part !== title);
    const row = page.locator(`#proved [data-pick="stage:${plan.stages[other]!.number}"]`).first();
    await row.click();
    expect(await page.locator(PANEL).textContent()).toContain(plan.stages[other]!.part);
    expect(await page.locator('.picked').count()).toBeGreaterThan(0);
    const activity = page.locator('#timeline [data-pick^="step:"]').nth(3);
    await activity.focus();
    await page.keyboard.press('Enter');
    const at = Number(await activity.getAttribute('data-at'));
    expect(Number.parseFloat((await page.locator(MOMENT).textContent())!)).toBeCloseTo(at, 1);
  });

  it('plays, and stops at the end', async () => {
    const { page } = await pages.open(html);
    const before = await page.locator(MOMENT).textContent();
    await page.locator(CANVAS).focus();
    await page.keyboard.press(' ');
    await expect.poll(() => page.locator(MOMENT).textContent()).not.toBe(before);
    await page.keyboard.press(' ');
  });

  it('shows the pictures of the stages where there is no WebGL', async () => {
    const plainBrowser = await launch(['--disable-3d-apis']);
    const own = new Pages(plainBrowser);
    const { page, complaints } = await own.open(html);
    expect(await page.locator(`${CANVAS}:visible`).count()).toBe(0);
    expect(await page.locator('#stages a[href^="#sheet-"]:visible').count()).toBe(plan.stages.length);
    expect(complaints.filter((text) => !text.includes('WebGL'))).toEqual([]);
    await plainBrowser.close();
    own.close();
  });

  it('can be read without its script', async () => {
    const { page } = await pages.open(html, { javaScriptEnabled: false });
    const text = await page.locator('main').innerText();
    for (const { part } of plan.stages) expect(text).toContain(part);
  });

  it('prints a sheet for every stage', async () => {
    const { page } = await pages.open(html);
    const pdf = (await page.pdf({ format: 'A4' })).toString('latin1');
    expect(pdf.startsWith('%PDF')).toBe(true);
    expect(pdf.match(/\/Type\s*\/Page\b/g)!.length).toBeGreaterThanOrEqual(plan.stages.length);
    await page.emulateMedia({ media: 'print' });
    for (const { number } of plan.stages)
      expect(await page.locator(`#sheet-${number}`).isVisible(), `sheet ${number}`).toBe(true);
  });

  it('states the numbers of the plan', async () => {
    const { page } = await pages.open(html);
    const shown = await page.evaluate(
      "[...document.querySelector('#proved table').querySelectorAll('tbody tr')]" +
        ".map((row) => Number(row.querySelector('[data-value]').dataset.value))",
    );
    expect(shown).toEqual(plan.objective.map(({ value }) => value));
    for (const { number, tacks } of plan.stages)
      for (const { length } of tacks)
        expect(await page.locator(`#sheet-${number} [data-value="${length}"]`).count()).toBeGreaterThan(0);
  });

  it('draws the view again in other colours, as often as the reader changes them', async () => {
    const { page, complaints } = await pages.open(html, { colorScheme: 'light' });
    const seen = async (): Promise<string> => {
      await page.waitForTimeout(300);
      return (await page.locator(CANVAS).screenshot({ type: 'png' })).toString('base64');
    };
    const light = await seen();
    for (const colorScheme of ['dark', 'light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      if (colorScheme === 'dark') expect(await seen()).not.toBe(light);
    }
    expect(complaints).toEqual([]);
  });

  it('is dark where the reader wants it dark', async () => {
    const light = await pages.open(html, { colorScheme: 'light' });
    const dark = await pages.open(html, { colorScheme: 'dark' });
    const ground = 'getComputedStyle(document.documentElement).backgroundColor';
    expect(await dark.page.evaluate(ground)).not.toBe(await light.page.evaluate(ground));
  });
});
