import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';

/** Where Debian puts its Chromium; another one can be named in the environment. */
const CHROMIUM = process.env['CHROMIUM'] ?? '/usr/bin/chromium';

export const hasBrowser = existsSync(CHROMIUM);

/** Software rendering, no window, and nothing that Chromium would ask the network for by itself. */
const ARGUMENTS = [
  '--no-sandbox',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const launch = (more: readonly string[] = []): Promise<Browser> =>
  chromium.launch({ executablePath: CHROMIUM, args: [...ARGUMENTS, ...more] });

/** A page that is open, with what went wrong in it and what it asked for. */
export interface Opened {
  readonly page: Page;
  /** Messages of errors and warnings, and exceptions. */
  readonly complaints: string[];
  /** Addresses asked for, without that of the page itself. */
  readonly requests: string[];
}

/** Writes pages to files of its own and opens them from there, as a reader does. */
export class Pages {
  private readonly folder = mkdtempSync(join(tmpdir(), 'tackwright-pages-'));
  private count = 0;

  constructor(private readonly browser: Browser) {}

  async open(html: string, options: BrowserContextOptions = {}): Promise<Opened> {
    const file = join(this.folder, `page-${(this.count += 1)}.html`);
    writeFileSync(file, html);
    const context = await this.browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
    const page = await context.newPage();
    const complaints: string[] = [];
    const requests: string[] = [];
    const address = pathToFileURL(file).href;
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(String(error)));
    page.on('request', (request) => {
      if (request.url().split('#')[0] !== address) requests.push(request.url());
    });
    await page.goto(address);
    return { page, complaints, requests };
  }

  close(): void {
    rmSync(this.folder, { recursive: true });
  }
}
