import { readFileSync } from 'node:fs';
import { Ajv2020, type ErrorObject } from 'ajv/dist/2020.js';
import type { GeometricPlan } from '../../src/index.js';
import { plainly } from './words.js';

/** What stops the generator: told in one line, without a stack. */
export class Refusal extends Error {}

const SCHEMA = new URL('../../shared/plan.schema.json', import.meta.url);

/**
 * The plan in a text, if it meets the published schema and has robot programs. Throws a `Refusal` that says where and
 * what is wrong.
 */
export function readPlan(text: string): GeometricPlan {
  const value = parsed(text);
  const validate = new Ajv2020({ strictTuples: false, allErrors: true }).compile(
    JSON.parse(readFileSync(SCHEMA, 'utf8')) as object,
  );
  if (!validate(value)) throw new Refusal(fault(validate.errors ?? [], value));
  const plan = value as GeometricPlan | { readonly kind: 'abstract' };
  if (plan.kind === 'abstract') throw new Refusal('the plan of an abstract weldment has no robot programs');
  return plan;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Refusal(`not JSON: ${plainly(String(error))}`);
  }
}

/** An alternative of the schema that a value does not claim to be, by the word (`do`, `kind`) that tells them apart. */
interface Unmeant {
  readonly schema: string;
  readonly value: string;
}

function unmeant({ keyword, schemaPath, instancePath }: ErrorObject): Unmeant[] {
  const schema = /^(.*\/oneOf\/\d+\/)properties\/(?:do|kind)\/const$/.exec(schemaPath)?.[1];
  if (keyword !== 'const' || schema === undefined) return [];
  return [{ schema, value: instancePath.slice(0, instancePath.lastIndexOf('/')) }];
}

/** The first departure from the schema that is not merely one from an alternative that is not meant. */
function fault(errors: readonly ErrorObject[], plan: unknown): string {
  const aside = errors.flatMap(unmeant);
  const told =
    errors.find(
      ({ keyword, schemaPath, instancePath }) =>
        keyword !== 'oneOf' &&
        !aside.some(({ schema, value }) => schemaPath.startsWith(schema) && instancePath.startsWith(value)),
    ) ?? deepest(errors.filter(({ keyword }) => keyword === 'const'));
  if (told === undefined) return 'not a plan by the schema';
  const { keyword, instancePath, message = 'not as the schema says', params } = told;
  const what = keyword === 'const' ? 'the schema has no such value here' : message;
  const extra = 'additionalProperty' in params ? ` (${String(params.additionalProperty)})` : '';
  const found = JSON.stringify(valueAt(plan, instancePath)) ?? 'nothing';
  return plainly(`${instancePath || 'plan'}: ${found.slice(0, 60)}: ${what}${extra}`);
}

const depth = ({ instancePath }: ErrorObject): number => instancePath.split('/').length;
const deepest = (errors: readonly ErrorObject[]): ErrorObject | undefined =>
  [...errors].sort((a, b) => depth(b) - depth(a))[0];

/** What a JSON pointer of a validator points at. */
const valueAt = (value: unknown, pointer: string): unknown =>
  pointer
    .split('/')
    .slice(1)
    .map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~'))
    .reduce<unknown>((inner, key) => (inner as Record<string, unknown> | undefined)?.[key], value);
