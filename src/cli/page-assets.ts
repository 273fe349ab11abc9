import { readFileSync } from 'node:fs';
import type { PageAssets } from '../report/page/page-html.js';

const built = (file: string): string => readFileSync(new URL(`../browser/${file}`, import.meta.url), 'utf8');

/** The script and the style sheet of pages, built by `npm run build` beside the compiled commands. */
export const pageAssets = (): PageAssets => ({ script: built('page.js'), style: built('page.css') });

/** The style sheet of the report of a family. */
export const familyStyle = (): string => built('family.css');
