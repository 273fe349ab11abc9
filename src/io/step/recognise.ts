import { shapeFileSchema, shapeOf } from '../../model/shape.js';
import { findMaterial } from '../../model/material.js';
import { shapeSolid } from '../../model/part-geometry.js';
import { rounded } from '../../base/order.js';
import { cutPart } from './cut-part.js';
import { extrusionsOf, type Extrusion } from './extrusion.js';
import { mm, mmPoint } from './millimetres.js';
import { lengthOf } from './placing.js';
import type { Draft, RecognisedPart, UnknownSolid } from './recognised.js';
import { rolledPart } from './rolled-part.js';
import { extremes, type SolidMesh } from './solid-mesh.js';

/** The material that parts of a STEP file are given: the file names none that is understood. */
export const MATERIAL = 'S235';
/** A mass that differs by more than this share from that of the shape is given (our choice). */
const MASS_OFF = 0.005;

const unknown = (seen: string): UnknownSolid => ({ kind: 'unknown', seen });

/** The part that a solid is: a bar, a section, a plate or a prism, with where it is and how it is turned. */
export function recognise(mesh: SolidMesh): RecognisedPart | UnknownSolid {
  if (mesh.faces.length === 0) return unknown('it has no faces');
  if (!mesh.closed) return unknown(`a surface that is not closed, ${sight(mesh)}`);
  const extrusions = extrusionsOf(mesh);
  if (extrusions.length === 0)
    return unknown(`${sight(mesh)}, and in no direction nearly one section from end to end`);
  const rolled = extrusions.flatMap((extrusion) => {
    const draft = rolledPart(extrusion);
    return draft === undefined ? [] : [{ extrusion, draft }];
  })[0];
  const extrusion = rolled?.extrusion ?? extrusions[0]!;
  const draft = rolled?.draft ?? cutPart(extrusion);
  return 'seen' in draft ? unknown(`${sight(mesh)}: ${draft.seen}`) : checked(draft, extrusion, mesh);
}

/** The part when a weldment file may have it, with the mass of the solid where the shape has another. */
function checked(draft: Draft, extrusion: Extrusion, mesh: SolidMesh): RecognisedPart | UnknownSolid {
  const { key, sizes, at, turn } = draft;
  const read = shapeFileSchema.safeParse({ [key]: sizes });
  const volume = read.success ? volumeOfShape(read.data) : undefined;
  if (!read.success || volume === undefined) {
    const why = read.error?.issues[0];
    return unknown(`${sight(mesh)}: a ${key} that no weldment file may have${why ? ` (${fault(why)})` : ''}`);
  }
  const solid = solidVolume(extrusion);
  const off = volume / solid - 1;
  const gives = Math.abs(off) > MASS_OFF;
  const density = findMaterial(MATERIAL)!.density;
  const mass = gives ? rounded(solid * density * 1e-9, 4) : undefined;
  const heavy = `the shape alone would be ${percent(off)} ${off > 0 ? 'heavier' : 'lighter'}: the mass is that of the solid in ${MATERIAL}`;
  return {
    kind: 'part',
    key,
    sizes,
    at: mmPoint(at),
    turn,
    mass: mass !== undefined && mass > 0 ? mass : undefined,
    notes: [...(extrusion.exact ? [] : [closeNote(extrusion)]), ...draft.notes, ...(gives ? [heavy] : [])],
  };
}

type Fault = NonNullable<ReturnType<typeof shapeFileSchema.safeParse>['error']>['issues'][number];

/** What the schema has against a shape, in our words: a size out of range, or what a rule of ours says. */
function fault({ code, message, path }: Fault): string {
  const words = code === 'too_big' ? 'is too large' : code === 'too_small' ? 'is too small' : message;
  return `${path.slice(1).join('.')} ${words}`.trim();
}

function volumeOfShape(read: Parameters<typeof shapeOf>[0]): number | undefined {
  try {
    return shapeSolid(shapeOf(read)!).volume;
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** Volume of the solid with its true arcs, mm3. */
function solidVolume(extrusion: Extrusion): number {
  const { outer, holes, excess } = extrusion;
  const area = outer.area - holes.reduce((sum, hole) => sum + hole.area, 0);
  return (area * lengthOf(extrusion)) / (1 + excess);
}

const percent = (share: number): string => `${rounded(Math.abs(share) * 100, 2)} %`;

const closeNote = ({ excess }: Extrusion): string =>
  `only nearly one section from end to end: chamfers, notches or cross holes are left out, which changes the volume by ${percent(excess)}`;

/** What a solid looks like: faces, the box around it, volume. */
function sight({ points, faces, volume }: SolidMesh): string {
  const sizes = ([0, 1, 2] as const).map((k) => {
    const [low, high] = extremes(points.map((point) => point[k]));
    return mm(rounded(high - low, 2));
  });
  const curved = faces.filter(({ plane }) => plane === undefined).length;
  const count = faces.length === 1 ? '1 face' : `${faces.length} faces`;
  return `${count}, ${curved} of them curved, ${sizes.join(' x ')} mm, ${rounded(volume / 1000, 1)} cm3`;
}
