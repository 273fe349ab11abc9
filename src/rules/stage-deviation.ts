import type { Solid } from '../geometry/solid.js';
import { length, type Vec3 } from '../geometry/vector.js';
import type { Scene } from '../model/scene.js';
import { canBeTacked, runStage, type DistortionRun, type DistortionStage } from './distortion-run.js';

/** Where the point of a body has gone that was at `at`, mm. */
type DisplacementOf = (at: Vec3) => Vec3;

/** The greatest distance, mm, by which a corner of a rigid solid has been displaced. */
export const farthestCorner = ({ pieces }: Solid, displacement: DisplacementOf): number =>
  pieces.reduce(
    (most, { vertices }) => vertices.reduce((far, at) => Math.max(far, length(displacement(at))), most),
    0,
  );

/** A part with its tacks to others, by index. */
export interface JoinedPart {
  readonly part: number;
  readonly tacks: readonly { readonly a: number; readonly b: number }[];
}

/**
 * How far off its place a stage leaves its part: the greatest distance by which a corner of it, or of a part that its
 * tacks join it to, has been displaced, mm.
 */
export function stageDeviation(
  { parts }: Pick<Scene, 'parts'>,
  { part, tacks }: JoinedPart,
  displacement: (part: number, at: Vec3) => Vec3,
): number {
  const joined = new Set([part, ...tacks.flatMap(({ a, b }) => [a, b])]);
  return Math.max(
    ...[...joined].map((one) => farthestCorner(parts[one]!.solid, (at) => displacement(one, at))),
  );
}

/** The same after the events of a stage, with which a run goes on; null where a seam gapes too wide before one of its tacks. */
export function leftBy(scene: Scene, run: DistortionRun, stage: DistortionStage): number | null {
  const events = runStage(run, stage);
  if (events.some((event) => event.kind === 'tack' && !canBeTacked(scene, event.before))) return null;
  const tacks = [...stage.securing, ...stage.completing];
  return stageDeviation(scene, { part: stage.part, tacks }, (part, at) => run.displacement(part, at));
}
