import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Browser } from 'playwright-core';
import { hasBrowser, launch, Pages } from '../support/browser.js';
import { exampleWith, Planner, type Files } from '../support/planned.js';
import { pageOf } from '../support/report-pages.js';

/** Names that would do something if any of them were ever taken for markup, script or a style. */
const HOSTILE = [
  '<script>window.struck=1</script>',
  '</script><script>window.struck=2</script>',
  '"><img src=x onerror="window.struck=3">',
  "' onmouseover='window.struck=4",
  '<!--<svg/onload=window.struck=5>',
  'javascript:window.struck=6',
  '</style><style>*{display:none}</style>',
  '\u05d0\u05d1\u05d2 ' + '\u{1f9f2}\u{1f525}'.repeat(4),
  'w'.repeat(80),
];

/** The files with every name of ours that they may give exchanged for a hostile one. */
function hostile(files: Files): Files {
  const names = [
    'base',
    'cheek-left',
    'roller-stand',
    'twin-bench',
    'handler',
    'welder',
    'magnet-wide',
    'magnet-small',
  ];
  let text = JSON.stringify(files);
  names.forEach((name, i) => {
    const bad = JSON.stringify(`${HOSTILE[i % HOSTILE.length]!.slice(0, 78)}${i}`);
    text = text.replaceAll(JSON.stringify(name), bad);
  });
  return JSON.parse(text) as Files;
}

describe.skipIf(!hasBrowser)('a page whose every name is hostile', () => {
  let browser: Browser;
  let pages: Pages;

  beforeAll(async () => {
    browser = await launch();
    pages = new Pages(browser);
  });
  afterAll(async () => {
    await browser?.close();
    pages?.close();
  });

  it('shows them as text, and nothing else happens', async () => {
    const files = hostile(exampleWith('roller-stand', 'base', 'cheek-left'));
    const { plan, html } = await pageOf(files, await Planner.load());
    const { page, complaints, requests } = await pages.open(html);
    for (const pick of await page.locator('button.pick:visible, #stages select:visible').all())
      await pick.hover();
    await page.locator('#stage-view canvas').focus();
    for (const key of ['Home', 'PageDown', 'PageDown', 'End']) await page.keyboard.press(key);
    expect(await page.evaluate('window.struck')).toBeUndefined();
    expect(await page.locator('img, iframe, object, embed, main script, main style').count()).toBe(0);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    const shown = await page.locator('body').innerText();
    for (const { part } of plan.stages) expect(shown).toContain(part.slice(0, 20));
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(1440);
  });
});
