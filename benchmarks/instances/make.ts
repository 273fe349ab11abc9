import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { solved, tableText, type KnownRow } from './best-known.js';
import { fixedSet, type FixedInstance } from './fixed-set.js';

/** Budgets that are tried in turn, until one gives a proof: small, so that a test can repeat all of it. */
const STEPS = [250, 1000, 4000];

const FOLDER = import.meta.dirname;

/** The row of the least budget that proves it, or of the largest that does not. */
function knownRow(instance: FixedInstance): KnownRow {
  let row: KnownRow | undefined;
  for (const steps of STEPS) {
    const answer = solved(instance, steps);
    if (answer === undefined) continue;
    if (answer.findings > 0) throw new Error(`${instance.file}: the plan breaks ${answer.findings} rules`);
    ({ row } = answer);
    if (row.proved) break;
  }
  if (row === undefined) throw new Error(`${instance.file}: no plan within ${STEPS.at(-1)} steps`);
  return row;
}

/** Writes the instances, and with `--table` also solves them and writes the table of best values. */
for (const { file, text } of fixedSet()) writeFileSync(join(FOLDER, file), text);
console.log(`Written: ${fixedSet().length} instances`);
if (process.argv.includes('--table')) {
  const table = join(FOLDER, 'best-known.csv');
  writeFileSync(table, tableText(fixedSet().map(knownRow)));
  const rows = readFileSync(table, 'utf8').trimEnd().split('\n').slice(1);
  console.log(
    `Written: ${table}, ${rows.filter((row) => row.includes(',yes,')).length} of ${rows.length} proved`,
  );
}
