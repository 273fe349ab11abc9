import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

/** Folders of src in the order of design section 3: each imports only from those before it, and from itself. */
const LAYERS = [
  'base',
  'algorithms',
  'geometry',
  'kinematics',
  'mechanics',
  'model',
  'rules',
  'facts',
  'planning',
  'explain',
  'io',
  'report',
  'session',
  'study',
  'family',
  'cli',
  'browser',
];
/** Folders that stand beside one another: the later may not import the earlier although it comes first. */
const FORBIDDEN: readonly (readonly [string, string])[] = [
  ['geometry', 'algorithms'],
  ['kinematics', 'algorithms'],
  ['explain', 'planning'],
  ['explain', 'facts'],
  ['report', 'planning'],
  ['family', 'study'],
  // What runs in a browser takes neither what needs Node nor what judges or plans.
  ...['algorithms', 'rules', 'facts', 'planning', 'explain', 'io', 'session', 'study', 'family', 'cli'].map(
    (folder) => ['browser', folder] as const,
  ),
];

const SRC = join(import.meta.dirname, '..', 'src');

function filesBelow(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? filesBelow(path) : name.endsWith('.ts') ? [path] : [];
  });
}

function importsOf(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  const found = [...text.matchAll(/(?:from|import)\s*\(?\s*'(\.[^']+)'/g)].map((match) => match[1]!);
  return found.map((path) => relative(SRC, join(dirname(file), path)).replace(/\.js$/, '.ts'));
}

const files = filesBelow(SRC).map((path) => ({ path: relative(SRC, path), imports: importsOf(path) }));
const layerOf = (path: string): string => path.split('/')[0]!;

describe('layering', () => {
  it('reads the files it judges', () => {
    expect(files.length).toBeGreaterThan(100);
    expect(files.flatMap(({ imports }) => imports).length).toBeGreaterThan(300);
  });

  it('has no import against the order of the folders', () => {
    const against = files.flatMap(({ path, imports }) =>
      imports
        .filter((target) => path !== 'index.ts' && target.includes('/'))
        .filter((target) => {
          const [from, to] = [layerOf(path), layerOf(target)];
          const wrongWay = LAYERS.indexOf(to) > LAYERS.indexOf(from);
          return wrongWay || FORBIDDEN.some(([a, b]) => a === from && b === to);
        })
        .map((target) => `${path} imports ${target}`),
    );
    expect(against).toEqual([]);
  });

  it('knows every folder of src', () => {
    expect(
      [...new Set(files.map(({ path }) => layerOf(path)))].filter((x) => x !== 'index.ts').sort(),
    ).toEqual(expect.arrayContaining(['base', 'cli', 'geometry', 'model', 'planning', 'rules']));
    for (const { path } of files) expect(['index.ts', ...LAYERS]).toContain(layerOf(path));
  });

  it('has no cycle of imports', () => {
    const state = new Map<string, 'open' | 'done'>();
    const cycles: string[] = [];
    const byPath = new Map(files.map((file) => [file.path, file.imports]));
    const visit = (path: string, trail: readonly string[]): void => {
      if (state.get(path) === 'done') return;
      if (state.get(path) === 'open') {
        cycles.push([...trail.slice(trail.indexOf(path)), path].join(' > '));
        return;
      }
      state.set(path, 'open');
      for (const next of byPath.get(path) ?? []) visit(next, [...trail, path]);
      state.set(path, 'done');
    };
    for (const { path } of files) visit(path, []);
    expect(cycles).toEqual([]);
  });
});
