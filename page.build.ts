/** Bundles what pages run and how they look, `src/browser`, into one script and one style sheet. */
import { build, type BuildOptions, type BuildResult } from 'esbuild';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(import.meta.url);

/** `options`: where to put the files, or `write: false` for their texts. */
export const buildPage = (options: BuildOptions): Promise<BuildResult> =>
  build({
    absWorkingDir: dirname(here),
    entryPoints: ['src/browser/page.ts', 'src/browser/page.css', 'src/browser/family.css'],
    outdir: 'dist/browser',
    bundle: true,
    minify: true,
    format: 'iife',
    target: 'es2022',
    charset: 'utf8',
    // Licences of what is bundled stay in it.
    legalComments: 'inline',
    logLevel: 'warning',
    ...options,
  });

if (process.argv[1] === here) await buildPage({});
