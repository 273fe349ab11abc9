import { existsSync, readdirSync, readFileSync } from 'node:fs';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Issue } from '../../src/model/issue.js';
import { factsOf } from '../../src/planning/plan.js';
import { abstractMistakes, likelyMistakes } from '../../src/session/guidance/likely-mistakes.js';
import { readInputs, type Source, type Sources } from '../../src/session/inputs.js';
import { standInCell } from '../../src/session/stand-in-cell.js';

const ROOT = new URL('../../', import.meta.url);
const STORIES = new URL('tests/stories/', ROOT);

const source = (url: URL, name: string): Source | undefined =>
  existsSync(url) ? { text: readFileSync(url, 'utf8'), name } : undefined;

interface Case extends Sources {
  readonly name: string;
}

function storyCases(): Case[] {
  const bench = source(new URL('bench.cell.yaml', STORIES), 'cell.yaml');
  return readdirSync(STORIES, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => {
      const at = (file: string): URL => new URL(`${name}/${file}`, STORIES);
      const beside = Object.fromEntries(
        readdirSync(at(''))
          .filter((file) => file.endsWith('.urdf'))
          .map((file) => [file, readFileSync(at(file), 'utf8')]),
      );
      const cell = source(at('cell.yaml'), 'cell.yaml') ?? bench!;
      return {
        name: `stories/${name}`,
        weldment: source(at('weldment.yaml'), 'weldment.yaml')!,
        cell: { ...cell, beside },
        settings: source(at('settings.yaml'), 'settings.yaml'),
      };
    });
}

function exampleCases(): Case[] {
  const folder = new URL('examples/', ROOT);
  return readdirSync(folder).flatMap((name) => {
    const weldment = source(new URL(`${name}/${name}.weldment.yaml`, folder), 'weldment.yaml');
    if (weldment === undefined) return [];
    const bench = name === 'machine-sub-frame' ? 'long-bench' : 'twin-bench';
    return [{ name, weldment, cell: source(new URL(`cells/${bench}.cell.yaml`, folder), 'cell.yaml') }];
  });
}

/** What `plan` and `inspect` would warn of, without the work of either. */
export function warningsOf(sources: Sources, programs: LinearPrograms): readonly Issue[] {
  const { inputs, issues } = readInputs(sources, { cellNeeded: false });
  if (inputs === undefined) return issues.filter(({ severity }) => severity === 'warning');
  const { weldment, cell, settings, weldmentDocument } = inputs;
  if (weldment.kind === 'abstract') return [...issues, ...abstractMistakes(weldment, weldmentDocument)];
  const facts = factsOf(weldment, cell ?? standInCell(weldment), settings, programs);
  return [...issues, ...likelyMistakes(facts, inputs)];
}

/** The codes of the warnings of every example and story, by its name; only of those that have any. */
export function allWarnings(programs: LinearPrograms): Readonly<Record<string, readonly string[]>> {
  const told = [...exampleCases(), ...storyCases()].map(({ name, ...sources }) => {
    return [name, warningsOf(sources, programs).map(({ code, path }) => `${code} ${path}`)] as const;
  });
  return Object.fromEntries(told.filter(([, warnings]) => warnings.length > 0).sort());
}
