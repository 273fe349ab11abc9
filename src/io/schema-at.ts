import type { z } from 'zod';
import type { Path } from './show.js';

type AnySchema = z.core.$ZodType;
type AnyDef = z.core.$ZodTypes['_zod']['def'];

/** What a schema says about one place: the schema without its wrappers, and what the place means. */
export interface SchemaPlace {
  readonly schema: AnySchema;
  readonly description: string | undefined;
}

const defOf = (schema: AnySchema): AnyDef => (schema as z.core.$ZodTypes)._zod.def;

/**
 * The part of a schema that rules the value at `path`, choosing among the options of a union by `value` (the value of
 * the whole document). Undefined where the schema knows no such place.
 */
export function schemaAt(root: AnySchema, path: Path, value: unknown): SchemaPlace | undefined {
  let place: SchemaPlace | undefined = unwrap(root, value);
  let inner = value;
  for (const key of path) {
    const next: AnySchema | undefined = place === undefined ? undefined : stepInto(place.schema, key);
    if (next === undefined) return undefined;
    inner = valueIn(inner, key);
    place = unwrap(next, inner);
  }
  return place;
}

/** The value at a path of plain data; undefined where there is none. Inherited properties do not count. */
export const valueAt = (value: unknown, path: Path): unknown => path.reduce<unknown>(valueIn, value);

const valueIn = (value: unknown, key: PropertyKey): unknown =>
  typeof value === 'object' && value !== null && Object.hasOwn(value, key)
    ? (value as Record<PropertyKey, unknown>)[key]
    : undefined;

/** The keys an object schema knows; empty for any other schema. */
export function knownKeys(schema: AnySchema): readonly string[] {
  const def = defOf(schema);
  return def.type === 'object' ? Object.keys(def.shape) : [];
}

/** What kind of value a schema takes, in words. */
export function kindInWords(schema: AnySchema): string {
  const def = defOf(schema);
  switch (def.type) {
    case 'number':
      return 'format' in def ? 'a whole number' : 'a number';
    case 'string':
      return 'a text';
    case 'boolean':
      return 'true or false';
    case 'tuple':
      return `a list of ${def.items.length}`;
    case 'array':
      return 'a list';
    case 'record':
      return 'a map';
    case 'object':
      return `a map with ${knownKeys(schema).join(', ')}`;
    case 'literal':
      return def.values.map(String).join(' or ');
    case 'enum':
      return `one of ${Object.values(def.entries).join(', ')}`;
    case 'union':
      if ('discriminator' in def) return `a map with ${def.discriminator}`;
      return [...new Set(def.options.map((option) => kindInWords(unwrap(option, undefined).schema)))].join(
        ', or ',
      );
    default:
      return 'another value';
  }
}

function stepInto(schema: AnySchema, key: PropertyKey): AnySchema | undefined {
  const def = defOf(schema);
  if (def.type === 'object') return Object.hasOwn(def.shape, key) ? def.shape[String(key)] : undefined;
  if (def.type === 'record') return def.valueType;
  if (def.type === 'array') return def.element;
  if (def.type === 'tuple') return def.items[Number(key)];
  return undefined;
}

/** Takes off optional, default and pipe wrappers and chooses a union's option; the outermost description wins. */
function unwrap(wrapped: AnySchema, value: unknown): SchemaPlace {
  let schema = wrapped;
  let description: string | undefined;
  for (;;) {
    description ??= (schema as z.ZodType).description;
    const inner = insideOf(schema, value);
    if (inner === undefined) return { schema, description };
    schema = inner;
  }
}

function insideOf(schema: AnySchema, value: unknown): AnySchema | undefined {
  const def = defOf(schema);
  switch (def.type) {
    case 'optional':
    case 'nullable':
    case 'default':
      return def.innerType;
    case 'pipe':
      return def.in;
    case 'union':
      return closest(
        def.options.filter((option) => fits(unwrap(option, value).schema, value, discriminatorOf(def))),
        value,
      );
    default:
      return undefined;
  }
}

/** Of several maps the one that knows the most of the keys given, as issues of a union are told; the first of equals. */
function closest(options: readonly AnySchema[], value: unknown): AnySchema | undefined {
  if (options.length < 2 || typeof value !== 'object' || value === null) return options[0];
  const keys = Object.keys(value);
  const known = options.map((option) => {
    const own = knownKeys(unwrap(option, value).schema);
    return keys.filter((key) => own.includes(key)).length;
  });
  return options[known.indexOf(Math.max(...known))];
}

const discriminatorOf = (def: object): string | undefined =>
  'discriminator' in def ? String(def.discriminator) : undefined;

/** Whether a union's option is the one meant: by its discriminator, or else by being a map or a list. */
function fits(option: AnySchema, value: unknown, discriminator: string | undefined): boolean {
  const def = defOf(option);
  if (def.type === 'object' && discriminator !== undefined) {
    const literal = defOf(def.shape[discriminator]!);
    return literal.type === 'literal' && literal.values.includes(valueIn(value, discriminator) as string);
  }
  if (Array.isArray(value)) return def.type === 'tuple' || def.type === 'array';
  return typeof value === 'object' && value !== null && (def.type === 'object' || def.type === 'record');
}
