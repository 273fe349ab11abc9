import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ruleCatalogue } from '../../src/report/rule-catalogue.js';
import { ABSTRACT_RULES } from '../../src/rules/check-abstract.js';
import { RULES } from '../../src/rules/check.js';
import { SUB_ASSEMBLY_RULES } from '../../src/rules/sub-assemblies/check-whole.js';

const root = new URL('../../', import.meta.url);
const rows = (text: string): string[][] =>
  text
    .split('\n')
    .filter((line) => line.startsWith('| `'))
    .map((line) => line.split(/(?<!\\)\|/).map((cell) => cell.trim()));

describe('the catalogue of rules', () => {
  it('in docs is current (npm run catalogue)', () => {
    expect(readFileSync(new URL('docs/rules.md', root), 'utf8')).toBe(ruleCatalogue());
  });

  it('has every rule once, each with what it forbids and why', () => {
    const listed = rows(ruleCatalogue());
    expect(listed.map(([, id]) => id)).toEqual(
      ['inputs-true', ...[...RULES, ...SUB_ASSEMBLY_RULES, ...ABSTRACT_RULES].map(({ id }) => id)].map(
        (id) => `\`${id}\``,
      ),
    );
    for (const row of listed) {
      expect(row).toHaveLength(5);
      for (const cell of row.slice(1, 4)) expect(cell.length).toBeGreaterThan(5);
    }
    expect(new Set(RULES.map(({ id }) => id)).size).toBe(RULES.length);
  });

  it('has every id by which a finding can name its rule', () => {
    const folder = new URL('src/rules/', root);
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
    const named = files
      .filter((file) => file.endsWith('.ts'))
      .flatMap((file) =>
        [...readFileSync(new URL(file, folder), 'utf8').matchAll(/^(?:const ID =|\s+id:) '([a-z-]+)'/gm)].map(
          ([, id]) => `\`${id}\``,
        ),
      );
    expect(named.length).toBeGreaterThan(30);
    const listed = new Set(rows(ruleCatalogue()).map(([, id]) => id));
    expect(named.filter((id) => !listed.has(id))).toEqual([]);
  });
});
