import { z } from 'zod';

/** What `ReadStepFile` of occt-import-js hands over, as far as it is used. */
const meshSchema = z.object({
  name: z.string().default(''),
  brep_faces: z.array(z.object({ first: z.number(), last: z.number() })).default([]),
  attributes: z.object({ position: z.object({ array: z.array(z.number()) }) }),
  index: z.object({ array: z.array(z.number()) }),
});

export type RawMesh = z.infer<typeof meshSchema>;

/** A node of the tree that the library makes of the assembly. */
export interface RawNode {
  readonly name: string;
  readonly meshes: readonly number[];
  readonly children: readonly RawNode[];
}

const nodeSchema: z.ZodType<RawNode> = z.lazy(() =>
  z.object({ name: z.string(), meshes: z.array(z.number()), children: z.array(nodeSchema) }),
);

const resultSchema = z.object({ success: z.literal(true), root: nodeSchema, meshes: z.array(meshSchema) });

/** Meshes in mm and in place, in the order of the tree. */
export interface RawStep {
  readonly root: RawNode;
  readonly meshes: readonly RawMesh[];
}

/** What the library gave, when that is what it should give: undefined where it could not read the file. */
export function rawStep(given: unknown): RawStep | undefined {
  const read = resultSchema.safeParse(given);
  return read.success ? read.data : undefined;
}

/**
 * How finely round faces are divided: `linearDeflection` in mm and `angularDeflection` in radians. Sizes do not depend on
 * it, since circles are fitted to the corners of the mesh, which lie on them; what is no circle is as fine as this (our choice).
 */
export const STEP_OPTIONS = {
  linearUnit: 'millimeter',
  linearDeflectionType: 'absolute_value',
  linearDeflection: 0.05,
  angularDeflection: 0.3,
} as const;
