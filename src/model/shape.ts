import { z } from 'zod';
import type { ConvexPiece } from '../geometry/convex.js';
import type { Hole } from '../geometry/cut-shapes.js';
import { roundTheHole } from '../geometry/cut-shapes.js';
import type { Point2 } from '../geometry/outline.js';
import { encloses, loopsMeet, outlineFault } from '../geometry/outline.js';
import type { Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { positive, size } from './scalars.js';

/** Also when another key is wrong, so that all issues of a shape are told in one run. */
const always = ({ value }: { readonly value: unknown }): boolean =>
  typeof value === 'object' && value !== null;

const coordinate = z.number().finite().min(-100_000).max(100_000);
const point = z.tuple([coordinate, coordinate]).describe('two coordinates, mm');

const MOST_CORNERS = 200;

const outlineSchema = z
  .array(point)
  .min(3)
  .max(MOST_CORNERS)
  .check(({ value, issues }) => {
    const fault = outlineFault(value);
    if (fault !== undefined) issues.push({ code: 'custom', message: fault, input: value });
  })
  .describe('3 to 200 corners of a simple polygon, either way round, mm');

const holeSchema = z
  .strictObject({
    at: point.optional().describe('centre of a round hole'),
    diameter: size.optional(),
    outline: outlineSchema.optional().describe('corners of a hole that is not round'),
  })
  .refine(
    (hole) =>
      hole.outline === undefined
        ? hole.at !== undefined && hole.diameter !== undefined
        : hole.at === undefined && hole.diameter === undefined,
    { error: 'must be round (`at` and `diameter`) or of any polygon (`outline`)', when: always },
  );

const plateSchema = z
  .strictObject({
    length: size.optional(),
    width: size.optional(),
    thickness: size,
    outline: outlineSchema
      .optional()
      .describe('instead of length and width: corners as x, y from the place `at`, mm'),
    holes: z.array(holeSchema).max(50).optional().describe('holes through it; x, y from the place `at`'),
  })
  .refine((p) => p.outline !== undefined || p.length !== undefined, {
    path: ['length'],
    error: 'is missing',
    when: always,
  })
  .refine((p) => p.outline !== undefined || p.width !== undefined, {
    path: ['width'],
    error: 'is missing',
    when: always,
  })
  .refine((p) => p.outline === undefined || (p.length === undefined && p.width === undefined), {
    error: 'must have `outline`, or `length` and `width`, not both',
    when: always,
  })
  .check(({ value, issues }) => {
    for (const { at, key, message } of holeFaults(value))
      issues.push({ code: 'custom', message, path: ['holes', at, key], input: value.holes![at]![key] });
  });

type PlateFile = z.infer<typeof plateSchema>;

/** Holes that leave the plate or meet another. */
function holeFaults(
  plate: PlateFile,
): { readonly at: number; readonly key: 'at' | 'outline'; readonly message: string }[] {
  const outline = plateOutline(plate);
  const holes = (plate.holes ?? []).map(holeOf);
  if (outline === undefined || holes.includes(undefined)) return [];
  const loops = holes.map((hole) => roundTheHole(hole!));
  return loops.flatMap((loop, at) => {
    const key = plate.holes![at]!.outline === undefined ? 'at' : 'outline';
    if (loopsMeet(loop, outline) || !loop.every((corner) => encloses(outline, corner)))
      return [{ at, key, message: 'must leave the hole wholly inside the plate, clear of its edge' }];
    const met = loops.slice(0, at).findIndex((other) => {
      const within = encloses(other, loop[0]!) || encloses(loop, other[0]!);
      return within || loopsMeet(loop, other);
    });
    return met < 0 ? [] : [{ at, key, message: `must leave the hole clear of holes[${met}]` }];
  });
}

function plateOutline({ length, width, outline }: PlateFile): readonly Point2[] | undefined {
  if (outline !== undefined) return outline;
  if (length === undefined || width === undefined) return undefined;
  const [x, y] = [length / 2, width / 2];
  return [
    [-x, -y],
    [x, -y],
    [x, y],
    [-x, y],
  ];
}

function holeOf({ at, diameter, outline }: NonNullable<PlateFile['holes']>[number]): Hole | undefined {
  if (outline !== undefined) return { outline };
  return at !== undefined && diameter !== undefined ? { at, diameter } : undefined;
}

const blockSchema = z.strictObject({ length: size, width: size, height: size });
const hollowSchema = z
  .strictObject({ length: positive, width: positive, height: positive, wall: positive })
  .refine((s) => 2 * s.wall < Math.min(s.width, s.height), {
    path: ['wall'],
    error: 'must be less than half of width and of height',
  });
const roundHollowSchema = z
  .strictObject({ length: size, diameter: size, wall: size })
  .refine((s) => 2 * s.wall < s.diameter, {
    path: ['wall'],
    error: 'must be less than half of the diameter',
  });
const angleSchema = z
  .strictObject({ length: size, width: size, height: size, thickness: size })
  .refine((s) => s.thickness < Math.min(s.width, s.height), {
    path: ['thickness'],
    error: 'must be less than width and height',
  });
const flangedSchema = z
  .strictObject({ length: size, height: size, width: size, web: size, flange: size })
  .refine((s) => s.web < s.width, { path: ['web'], error: 'must be less than width' })
  .refine((s) => 2 * s.flange < s.height, { path: ['flange'], error: 'must be less than half of height' });

/** The ways a part may give its shape, one key each. Sections lie along x, centred on the frame of the part. */
export const shapeFields = {
  plate: plateSchema
    .optional()
    .describe('length along x, width along y (or an outline in x and y), thickness along z'),
  block: blockSchema.optional().describe('length along x, width along y, height along z'),
  'rectangular-hollow-section': hollowSchema
    .optional()
    .describe('length along x, width along y, height along z; sharp corners are assumed'),
  'round-hollow-section': roundHollowSchema.optional().describe('a tube, length along x'),
  angle: angleSchema
    .optional()
    .describe(
      'length along x, one leg of `width` along y at the -z side, one of `height` along z at the -y side',
    ),
  channel: flangedSchema
    .optional()
    .describe('length along x, height along z, flanges of `width` along y, open to +y; parallel flanges'),
  'i-section': flangedSchema
    .optional()
    .describe('length along x, height along z, flanges of `width` along y; parallel flanges'),
  'flat-bar': z
    .strictObject({ length: size, width: size, thickness: size })
    .optional()
    .describe('length along x, width along y, thickness along z'),
  'round-bar': z.strictObject({ length: size, diameter: size }).optional().describe('length along x'),
  'square-bar': z
    .strictObject({ length: size, width: size })
    .optional()
    .describe('length along x, width along y and z'),
  prism: z
    .strictObject({
      length: size,
      outline: outlineSchema.describe('corners as y, z from the place `at`, mm'),
    })
    .optional()
    .describe('any section drawn out along x, half of its length to either side of the frame'),
};

export type ShapeKey = keyof typeof shapeFields;

/** The keys by which a part gives a shape. */
export const SHAPE_KEYS = Object.keys(shapeFields) as readonly ShapeKey[];

/** Just the shape of a part, whatever else it has. */
export const shapeFileSchema = z.object(shapeFields);

export type ShapeFile = z.infer<typeof shapeFileSchema>;

interface Box {
  readonly length: number;
  readonly width: number;
  readonly height: number;
}

interface Flanged extends Box {
  readonly web: number;
  readonly flange: number;
}

/** A part that was tacked to others beforehand, as a member of the group that they are now. */
export interface GroupMember {
  readonly id: string;
  readonly shape: Shape;
  /** Pose of its own frame in the frame of the group. */
  readonly pose: Pose;
  /** kg */
  readonly mass: number;
}

/** A tack between two members of a group, cold. Frame of the group, mm; N before reduction. */
export interface MemberTack {
  readonly between: readonly [string, string];
  /** Its middle. */
  readonly at: Vec3;
  /** Unit. */
  readonly along: Vec3;
  readonly length: number;
  readonly strength: number;
}

/** Members of the two parts of a contact or a joint, where a part is a group. */
export type MemberPair = readonly [string | undefined, string | undefined];

/** Lengths in mm; what they mean is said with `shapeFields` and in geometry/sections.ts. */
export type Shape =
  | (Box & { readonly kind: 'plate' | 'block' | 'flat-bar' | 'square-bar' })
  | (Box & { readonly kind: 'rectangular-hollow-section'; readonly wall: number })
  | (Box & { readonly kind: 'angle'; readonly thickness: number })
  | (Flanged & { readonly kind: 'channel' | 'i-section' })
  | { readonly kind: 'round-bar'; readonly length: number; readonly diameter: number }
  | {
      readonly kind: 'round-hollow-section';
      readonly length: number;
      readonly diameter: number;
      readonly wall: number;
    }
  | {
      readonly kind: 'cut-plate';
      readonly outline: readonly Point2[];
      readonly holes: readonly Hole[];
      readonly thickness: number;
    }
  | { readonly kind: 'prism'; readonly length: number; readonly outline: readonly Point2[] }
  | {
      /** No file writes it: a sub-assembly makes it of its parts (model/split-weldment.ts). */
      readonly kind: 'group';
      readonly members: readonly GroupMember[];
      /** Metal of the tacks between its members, in its frame: in the way of others, and not counted in its mass. */
      readonly beads: readonly ConvexPiece[];
      /** What holds its members together; absent as long as it is not planned: then it is one rigid body. */
      readonly tacks?: readonly MemberTack[] | undefined;
      /** Members that may bear on one another; absent: all that touch. */
      readonly contacts?: readonly (readonly [string, string])[] | undefined;
    };

function plateShape(plate: PlateFile): Shape {
  const { length, width, thickness, outline, holes = [] } = plate;
  if (outline === undefined && holes.length === 0)
    return { kind: 'plate', length: length!, width: width!, height: thickness };
  const all = holes.flatMap((hole) => holeOf(hole) ?? []);
  return { kind: 'cut-plate', outline: plateOutline(plate)!, holes: all, thickness };
}

/** The shape of a part that passed its schema; undefined when it gives none, or the first of several. */
export function shapeOf(part: ShapeFile): Shape | undefined {
  if (part.plate) return plateShape(part.plate);
  if (part['flat-bar']) {
    const { length, width, thickness } = part['flat-bar'];
    return { kind: 'flat-bar', length, width, height: thickness };
  }
  if (part['square-bar']) {
    const { length, width } = part['square-bar'];
    return { kind: 'square-bar', length, width, height: width };
  }
  if (part.block) return { kind: 'block', ...part.block };
  if (part.angle) return { kind: 'angle', ...part.angle };
  if (part.prism) return { kind: 'prism', ...part.prism };
  for (const kind of ['channel', 'i-section'] as const) {
    const flanged = part[kind];
    if (flanged) return { kind, ...flanged };
  }
  if (part['round-bar']) return { kind: 'round-bar', ...part['round-bar'] };
  if (part['round-hollow-section']) return { kind: 'round-hollow-section', ...part['round-hollow-section'] };
  const hollow = part['rectangular-hollow-section'];
  return hollow && { kind: 'rectangular-hollow-section', ...hollow };
}
