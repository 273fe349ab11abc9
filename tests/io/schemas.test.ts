import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { referenceTables } from '../../src/io/reference-tables.js';
import { jsonSchemas } from '../../src/io/schemas.js';

const root = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const schemaNamed = (name: string) => {
  const found = jsonSchemas().find(({ fileName }) => fileName === `${name}.schema.json`)!;
  return z.fromJSONSchema(JSON.parse(found.text) as Parameters<typeof z.fromJSONSchema>[0]);
};

describe('JSON Schemas', () => {
  it.each(jsonSchemas())('$fileName in shared is current', ({ fileName, text }) => {
    expect(root(`shared/${fileName}`)).toBe(text);
  });

  it.each(jsonSchemas())('$fileName is valid by the meta-schema of JSON Schema 2020-12', ({ text }) => {
    const ajv = new Ajv2020({ strict: false });
    expect(ajv.validateSchema(JSON.parse(text) as object), ajv.errorsText()).toBe(true);
  });

  it('the reference tables in shared are current', () => {
    const { fileName, text } = referenceTables();
    expect(root(`shared/${fileName}`)).toBe(text);
  });

  it('have an id, a title and a version each', () => {
    const heads = jsonSchemas().map(({ fileName, text }) => {
      const { $id, title } = JSON.parse(text) as Record<string, string>;
      return [fileName, $id, title];
    });
    expect(heads).toEqual([
      ['weldment.schema.json', 'urn:tackwright:schema:weldment:1', 'Tackwright weldment with shapes'],
      [
        'abstract-weldment.schema.json',
        'urn:tackwright:schema:abstract-weldment:1',
        'Tackwright weldment without shapes',
      ],
      ['family.schema.json', 'urn:tackwright:schema:family:1', 'Tackwright family of weldments'],
      ['cell.schema.json', 'urn:tackwright:schema:cell:1', 'Tackwright cell'],
      ['settings.schema.json', 'urn:tackwright:schema:settings:1', 'Tackwright settings'],
      ['plan.schema.json', 'urn:tackwright:schema:plan:1', 'Tackwright plan'],
      [
        'dry-run.schema.json',
        'urn:tackwright:schema:dry-run:1',
        'Tackwright programs for a first try without arc',
      ],
      [
        'family-result.schema.json',
        'urn:tackwright:schema:family-result:1',
        'Tackwright patterns of a family with their parameters',
      ],
    ]);
  });

  it.each([
    ['weldment', 'examples/roller-stand/roller-stand.weldment.yaml'],
    ['weldment', 'examples/box-beam/box-beam.weldment.yaml'],
    ['abstract-weldment', 'examples/ring-of-six/ring-of-six.weldment.yaml'],
    ['family', 'examples/families/roller-stand.family.yaml'],
    ['family', 'examples/families/ladder-bracket.family.yaml'],
    ['family', 'examples/families/sub-frame.family.yaml'],
    ['cell', 'examples/cells/twin-bench.cell.yaml'],
  ])('%s accepts %s, which leaves defaults out, and refuses it with one key more', (name, path) => {
    const value = parse(root(path)) as Record<string, unknown>;
    expect(schemaNamed(name).safeParse(value).success).toBe(true);
    expect(schemaNamed(name).safeParse({ ...value, another: 1 }).success).toBe(false);
    expect(schemaNamed(name).safeParse({ ...value, units: 'm' }).success).toBe(false);
  });
});
