import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { programFiles } from './program-text.js';
import { readPlan, Refusal } from './read-plan.js';

/** Writes a text for each robot of a plan into a folder; all of them or, where the plan is refused, none. */
function generate(plan: string, folder: string): void {
  const files = programFiles(readPlan(readFileSync(plan, 'utf8')));
  mkdirSync(folder, { recursive: true });
  for (const { name, text } of files) {
    writeFileSync(join(folder, name), text);
    process.stdout.write(`${join(folder, name)}\n`);
  }
}

const [plan, folder = 'programs', ...more] = process.argv.slice(2);
if (plan === undefined || more.length > 0) {
  process.stderr.write(
    'generate.ts PLAN.json [FOLDER]   writes one text a robot, into the folder programs by default\n',
  );
  process.exitCode = 2;
} else
  try {
    generate(plan, folder);
  } catch (error) {
    const told = error instanceof Refusal || (error as { readonly code?: unknown }).code !== undefined;
    if (!told) throw error;
    process.stderr.write(`${plan}: ${(error as Error).message}\n`);
    process.exitCode = 10;
  }
