import { z } from 'zod';
import { besidePathSchema, finite, lineSchema, nameSchema, positive, unitsSchema } from './scalars.js';

/** Words that a parameter may not be called: those of expressions, their functions, and `name`, a column of the variants. */
export const RESERVED_WORDS: readonly string[] = [
  ...['i', 'name', 'pi', 'true', 'false', 'null', 'undefined', 'NaN', 'Infinity'],
  ...['and', 'or', 'xor', 'not', 'mod', 'to', 'in', 'end'],
  ...['min', 'max', 'abs', 'floor', 'ceil', 'round', 'sqrt'],
  ...['sin', 'cos', 'tan', 'asin', 'acos', 'atan', 'atan2'],
];

const WORD = new RegExp(`^(?!(?:${RESERVED_WORDS.join('|')})$)[A-Za-z][A-Za-z0-9_]{0,39}$`);

/** A name that expressions use: no hyphen, which would be a minus. */
export const wordSchema = z
  .string()
  .regex(
    WORD,
    'must be a letter, then letters, digits and `_`, 40 in all at most, and no word of expressions',
  )
  .describe('a name that expressions use: a letter, then letters, digits and `_`');

/** Longest expression that is read, in characters. */
export const LONGEST_EXPRESSION = 300;

/** Most copies of a repeated part or entry. */
export const MOST_COPIES = 60;

/** Most variants in the table of a family. */
export const MOST_VARIANTS = 500;

/** Most parameters, and most numbers derived from them; each may need all before it. */
export const MOST_NAMES = 100;

const few = <T extends object>(record: T): boolean => Object.keys(record).length <= MOST_NAMES;
const TOO_MANY = `has more than ${MOST_NAMES} names`;

const expressionSchema = z.union([z.string().min(1).max(LONGEST_EXPRESSION), finite, z.boolean()]);

/** A value of a parameter as a file gives it. */
export const givenValueSchema = z.union([finite, z.boolean(), lineSchema]);

const parameterSchema = z
  .strictObject({
    default: givenValueSchema
      .optional()
      .describe(
        'of variants that do not give it; its kind (number, yes or no, text) is that of the parameter',
      ),
    unit: z.enum(['mm', 'kg', 'N', 's', 'deg']).optional().describe('absent: a count, a choice or a text'),
    range: z
      .tuple([finite, finite])
      .refine(([low, high]) => low < high, 'must be the lower end and then the upper one')
      .optional()
      .describe('anything between these may be ordered, not only what the variants say'),
    resolution: positive
      .optional()
      .describe(
        'how closely the place is found at which a pattern stops working; default: a 64th of the range',
      ),
    about: lineSchema.optional().describe('what it is, for people'),
  })
  .refine((p) => p.resolution === undefined || p.range !== undefined, {
    path: ['resolution'],
    error: 'is given without a range',
  });

/** One variant: its name, and values of parameters; what is left out has the default. */
const variantSchema = z.object({ name: nameSchema }).catchall(givenValueSchema);

/** A weldment file whose numbers may be expressions. What it gives is judged when its variants are known. */
export const familyBaseSchema = z
  .looseObject({
    parts: z
      .record(
        nameSchema,
        z.looseObject({
          when: expressionSchema.optional().describe('the part exists only where this is true'),
          repeat: expressionSchema
            .optional()
            .describe(
              `so many copies, ${MOST_COPIES} at most, \`rib-1\`, \`rib-2\`, ...; \`i\` counts from 0`,
            ),
        }),
      )
      .describe('as in a weldment file; a text that begins with `=` is an expression'),
  })
  .describe('a weldment file with expressions in it');

/** A family file. */
export const familyFileSchema = z
  .strictObject({
    family: nameSchema,
    units: unitsSchema,
    parameters: z
      .record(wordSchema, parameterSchema)
      .refine(few, TOO_MANY)
      .describe('what the variants differ in'),
    let: z
      .record(wordSchema, expressionSchema)
      .refine(few, TOO_MANY)
      .default({})
      .describe('numbers that follow from the parameters and from one another'),
    weldment: besidePathSchema.optional().describe('file of the base, below the folder of this file'),
    base: familyBaseSchema
      .optional()
      .describe('a weldment file with expressions in it; or give `weldment`, the file that has it'),
    variants: z
      .union([
        z.array(variantSchema).min(1).max(MOST_VARIANTS),
        z.strictObject({
          file: besidePathSchema.describe(
            'a table as CSV or XLSX: a row of names, a row of units, one row a variant',
          ),
        }),
      ])
      .describe('the members of the family'),
  })
  .refine((file) => (file.base === undefined) !== (file.weldment === undefined), {
    path: ['base'],
    error: 'needs either `base` or `weldment`, the file of the base, and not both',
    when: ({ value }) => typeof value === 'object' && value !== null,
  });

export type FamilyFile = z.infer<typeof familyFileSchema>;
export type ParameterFile = FamilyFile['parameters'][string];
