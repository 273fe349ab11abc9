import type { Facts } from '../../facts/facts.js';
import { partMass } from '../../model/part-geometry.js';
import type { PlacedPart } from '../../model/scene.js';
import { short, type Mistake } from './mistake.js';

/** A mass given may be so many times that of the shape, or this part of it: what else is welded on is seldom more (our choice). */
const MASS_FACTOR = 2;

/** Units in which a mass may have been given by mistake, in kg. */
const OTHER_UNITS = [
  { unit: 'g', kg: 0.001 },
  { unit: 'lb', kg: 0.45359237 }, // exact by definition
  { unit: 't', kg: 1000 },
] as const;

/** How near to the mass of the shape a mass in another unit must come to be proposed, as a share (our choice). */
const NEAR = 0.05;

/** What of a part's shape is likely to be a mistake: its mass, and a plate that is thicker than wide. */
export const shapeMistakes = ({ scene }: Facts): Mistake[] =>
  scene.parts.flatMap((placed) => [...massMistake(placed), ...thickPlate(placed)]);

function massMistake({ part, own }: PlacedPart): Mistake[] {
  if (part.massGiven === undefined) return [];
  const derived = partMass({ ...part, massGiven: undefined }, own);
  const factor = part.massGiven / derived;
  if (factor <= MASS_FACTOR && factor >= 1 / MASS_FACTOR) return [];
  const unit = OTHER_UNITS.find(({ kg }) => Math.abs(factor * kg - 1) <= NEAR)?.unit;
  const maybe = unit === undefined ? '' : `this may be ${unit}: `;
  return [
    {
      path: ['parts', part.id, 'mass'],
      code: 'mass-unlike-shape',
      problem: `${short(part.massGiven)} kg, and its shape of ${part.material.name} comes to ${short(derived)} kg`,
      remedy: `${maybe}give kg, correct a size or the material, or leave \`mass\` out`,
    },
  ];
}

function thickPlate({ part: { id, shape } }: PlacedPart): Mistake[] {
  if (shape.kind !== 'plate' || shape.height <= Math.min(shape.length, shape.width)) return [];
  return [
    {
      path: ['parts', id, 'plate', 'thickness'],
      code: 'thickness-over-width',
      problem: `${short(shape.height)} mm is more than its ${shape.width < shape.length ? 'width' : 'length'}, ${short(Math.min(shape.length, shape.width))} mm`,
      remedy: 'correct the sizes, or write `block`',
    },
  ];
}
