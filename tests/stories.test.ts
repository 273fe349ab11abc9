import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../src/algorithms/linear-program.js';
import type { Source } from '../src/session/inputs.js';
import { planSession } from '../src/session/plan.js';
import { planOrRemedies } from '../src/session/remedies/plan-or-remedies.js';
import { readExpectation, type Expectation } from './stories/expectation.js';
import { differences } from './stories/judging.js';

const FOLDER = new URL('./stories/', import.meta.url);
const programs = await loadLinearPrograms();

interface Story {
  readonly name: string;
  readonly expected: Expectation;
  readonly weldment: string;
  readonly cell: Source;
  readonly settings: Source | undefined;
}

function textOf(path: string): string | undefined {
  const url = new URL(path, FOLDER);
  return existsSync(url) ? readFileSync(url, 'utf8') : undefined;
}

/** The URDF files of a story, by their names. */
const besideOf = (name: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(new URL(name, FOLDER))
      .filter((file) => file.endsWith('.urdf'))
      .map((file) => [file, textOf(`${name}/${file}`)!]),
  );

function storyOf(name: string): Story {
  const settings = textOf(`${name}/settings.yaml`);
  return {
    name,
    expected: readExpectation(textOf(`${name}/expect.yaml`) ?? ''),
    weldment: textOf(`${name}/weldment.yaml`) ?? '',
    cell: {
      text: textOf(`${name}/cell.yaml`) ?? textOf('bench.cell.yaml') ?? '',
      name: 'cell.yaml',
      beside: besideOf(name),
    },
    settings: settings === undefined ? undefined : { text: settings, name: 'settings.yaml' },
  };
}

/** The weldment file with its parts in another order; every part must be named. */
function reordered(text: string, order: readonly string[]): string {
  const file = parse(text) as { parts: Record<string, unknown> };
  expect([...order].sort()).toEqual(Object.keys(file.parts).sort());
  return JSON.stringify({ ...file, parts: Object.fromEntries(order.map((id) => [id, file.parts[id]])) });
}

function tell({ cell, settings, expected }: Story, weldment: string): void {
  const sources = { weldment: { text: weldment, name: 'weldment.yaml' }, cell, settings };
  // Remedies take many plans, so only stories that tell of them ask for them.
  const asks = expected.kind === 'impossible' && expected['would-help'] !== undefined;
  const outcome = asks ? planOrRemedies(sources, { programs }) : planSession(sources, { programs });
  expect(differences(outcome, expected)).toEqual([]);
}

const stories = readdirSync(FOLDER, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => storyOf(name))
  .sort((a, b) => (a.name < b.name ? -1 : 1));

describe.each(stories)('$name', (story) => {
  const { expected, weldment } = story;
  const test = expected['known-failure'] === undefined ? it : it.fails;
  test(expected.why, () => {
    tell(story, weldment);
  });
  const orders = expected.kind === 'planned' ? (expected['part-orders'] ?? []) : [];
  for (const order of orders)
    test(`the same with the parts in the order ${order.join(', ')}`, () => {
      tell(story, reordered(weldment, order));
    });
});
