import { z } from 'zod';
import type { Vec3 } from '../geometry/vector.js';
import { distance } from '../geometry/vector.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import { temporaryStrength } from '../mechanics/tack-strength.js';
import { MATERIALS } from './material.js';
import { notNegative, positive, share } from './scalars.js';

const factor = z.number().finite().min(1).max(10);
const STEELS = MATERIALS.filter(({ steel }) => steel !== undefined).map(({ name }) => name);

/** What a file of nodes and bars does not say. All defaults are our choice where nothing else is said. */
export const frameChoicesSchema = z
  .strictObject({
    scale: positive
      .max(1000)
      .default(10)
      .describe(
        'how many times larger than the file the frame is built: published frames are models of some decimetres; 1 for a file in real size',
      ),
    diameter: positive.max(1000).default(21.3).describe('outside diameter of every bar, a round tube, mm'),
    wall: positive.max(100).default(2).describe('wall of the tubes, mm'),
    steel: z.enum(STEELS).default('S235').describe('steel grade of tubes and tacks'),
    clamp: notNegative
      .default(1000)
      .describe(
        'force that presses each grounded node that a bar stands on to the table, N: a small toggle clamp (common practice); 0 for frames that just stand',
      ),
    holds: z
      .int()
      .min(0)
      .max(8)
      .default(1)
      .describe('most pieces or bars that stay held while the next bar is brought: handling robots less one'),
    'push-share': notNegative.default(0.08).describe('push on a piece or a bar as a share of its weight'),
    'centre-shift': notNegative
      .default(1)
      .describe('of the centre of mass of a piece to the side of the push, mm'),
    'push-reserve': factor.default(1.5).describe('factor by which the push may grow'),
    'gravity-reserve': factor
      .default(1.2)
      .describe('factor by which the weight on a tack may grow, and by which a clamp may press less'),
    tacks: z
      .int()
      .min(3)
      .max(12)
      .default(3)
      .describe('equal tacks spread evenly around the end of a bar where it is joined'),
    'tack-length': positive.max(500).default(10).describe('length of each of them, mm'),
    'tack-throat': positive
      .max(50)
      .default(1.4)
      .describe('throat of each of them, mm: leg as thick as the wall'),
    'tack-temperature': notNegative.max(1500).default(500).describe('of a tack when its bar is let go, C'),
    'tack-share': share.default(0.5).describe('what poor fusion leaves of a tack that nobody has looked at'),
  })
  .refine(({ diameter, wall }) => 2 * wall <= diameter, {
    path: ['wall'],
    error: 'must be at most half of the diameter',
  });

export type FrameChoices = z.infer<typeof frameChoicesSchema>;

export interface FrameNode {
  /** As built, mm. */
  readonly point: Vec3;
  /** Whether bars that end here stand on the table. */
  readonly grounded: boolean;
}

export interface FrameBar {
  readonly name: string;
  /** Indices of its two nodes. */
  readonly ends: readonly [number, number];
  /** mm, from node to node. */
  readonly length: number;
  readonly middle: Vec3;
  /** N */
  readonly weight: number;
}

/**
 * A frame of straight round tubes between nodes. Estimates throughout: bars reach from node to node, and end cuts, play
 * and where on the table a slanting tube rests are left out.
 */
export interface Frame {
  readonly nodes: readonly FrameNode[];
  readonly bars: readonly FrameBar[];
  readonly choices: FrameChoices;
  /** Height of the table: of the lowest grounded node, mm. Others stand on blocks of their own. */
  readonly table: number;
  /** Radius of the round foot that a grounded node stands on, mm: that of the tubes. */
  readonly foot: number;
  /** What one tack holds when its bar is let go, N. */
  readonly tackStrength: number;
}

/** Nodes in mm as built, grounded ones among them; bars by the indices of their two ends. */
export function frameOf(
  nodes: readonly FrameNode[],
  ends: readonly (readonly [number, number])[],
  choices: FrameChoices,
): Frame {
  const { diameter, wall, steel } = choices;
  const material = MATERIALS.find(({ name }) => name === steel)!;
  const section = Math.PI * wall * (diameter - wall);
  const bars = ends.map(([a, b], i): FrameBar => {
    const [from, to] = [nodes[a]!.point, nodes[b]!.point];
    const length = distance(from, to);
    return {
      name: `bar-${i}`,
      ends: [a, b],
      length,
      middle: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2],
      weight: section * length * material.density * 1e-9 * STANDARD_GRAVITY,
    };
  });
  const tackStrength =
    choices['tack-share'] *
    temporaryStrength(
      choices['tack-length'],
      choices['tack-throat'],
      material.steel!,
      choices['tack-temperature'],
    );
  return {
    ...{ nodes, bars, choices, tackStrength },
    table: Math.min(...nodes.filter(({ grounded }) => grounded).map(({ point }) => point[2])),
    foot: diameter / 2,
  };
}

/** How far the handling robot travels from the middle of one bar in place to that of the next, whole mm. */
export const barTravel = (from: FrameBar, to: FrameBar): number =>
  Math.round(distance(from.middle, to.middle));
