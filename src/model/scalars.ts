import { z } from 'zod';

/** The only unit system; a required word in every file, so that metres or inches are noticed. */
export const UNITS = 'mm kg N s deg';

/** Control characters and direction overrides would let a name rewrite what a terminal or page shows. */
// eslint-disable-next-line no-control-regex
const UNPRINTABLE = /[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

export const nameSchema = z
  .string()
  .min(1)
  .max(80)
  .refine((name) => !UNPRINTABLE.test(name), 'must have no control or direction-changing characters')
  .refine((name) => name !== '__proto__', 'is reserved')
  .describe('a name: 1 to 80 printable characters');

/** A line of text for people. */
export const lineSchema = z
  .string()
  .min(1)
  .max(200)
  .refine((line) => !UNPRINTABLE.test(line), 'must have no control or direction-changing characters');

export const unitsSchema = z.literal(UNITS).describe('the unit system of every number in the file');
export const finite = z.number().finite();
export const positive = z.number().finite().positive();
/** A size of a part, gripper or station, mm: no workshop has larger ones. */
export const size = z.number().finite().positive().max(100_000);
export const notNegative = z.number().finite().min(0);
export const share = z.number().finite().min(0).max(1);
const coordinate = z.number().finite().min(-1_000_000).max(1_000_000);
export const pointSchema = z.tuple([coordinate, coordinate, coordinate]).describe('x, y, z in mm');
export const turnSchema = z
  .tuple([finite, finite, finite])
  .describe('roll, pitch, yaw about the fixed x, y, z axes, degrees');
export const directionSchema = z
  .tuple([finite, finite, finite])
  .refine((v) => v.some((x) => x !== 0), 'must not be the zero vector')
  .describe('a direction; its length does not matter');
export const pairSchema = z
  .tuple([nameSchema, nameSchema])
  .refine(([a, b]) => a !== b, 'must name two different parts');
export const sixSchema = z.tuple([finite, finite, finite, finite, finite, finite]);
/** Which names a shape has, only the shape can tell: see geometry/sections.ts and model/part-rests.ts. */
export const faceSchema = nameSchema.describe(
  'a face of the shape by its name (README: Shapes): `+x` to `-z`, `inner-y`, `side-2`, `hole-1-3`',
);
export const restSchema = nameSchema.describe(
  'the face a part lies on, by its name; `toes-1`, `toes-2` where it stands on several faces or edges at once',
);
export type FaceName = string;

/** No empty, `.` or `..` segment, no drive, scheme, backslash or leading slash: nothing that leads out of the folder. */
const BESIDE = /^(?!\.{1,2}(?:\/|$))[^\\/:]+(?:\/(?!\.{1,2}(?:\/|$))[^\\/:]+)*$/;

export const besidePathSchema = z
  .string()
  .min(1)
  .max(200)
  .refine((path) => BESIDE.test(path) && !UNPRINTABLE.test(path), {
    error: 'must be a plain path below the folder of this file, with `/` and without `..`',
  });
