import { buildPage } from '../../page.build.js';
import type { PageAssets } from '../../src/report/page/page-html.js';

/** Script and style of pages, built from the sources as they are. */
export async function builtAssets(): Promise<PageAssets> {
  const { outputFiles } = await buildPage({ write: false });
  const named = (end: string): string => outputFiles!.find(({ path }) => path.endsWith(end))!.text;
  return { script: named('.js'), style: named('.css') };
}
