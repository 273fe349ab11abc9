import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { AssemblyState } from './assembly.js';
import { pushLoads, torchLoads, type PartLoad, type TorchTouch } from './load-cases.js';

/** A tack about to be laid: the parts it joins, and where the torch may touch. */
export interface TouchedJoint {
  readonly a: number;
  readonly b: number;
  readonly touch: TorchTouch;
}

/** Parts in place that no chain of tacks joins to the first part: what stands by itself, in the order it joined. */
export function looseParts(
  inPlace: readonly number[],
  tacks: readonly { readonly a: number; readonly b: number }[],
): readonly number[] {
  const beside = new Map<number, number[]>(inPlace.map((part) => [part, []]));
  for (const { a, b } of tacks) {
    beside.get(a)?.push(b);
    beside.get(b)?.push(a);
  }
  const reached = new Set(inPlace.slice(0, 1));
  for (const part of reached) for (const other of beside.get(part) ?? []) reached.add(other);
  return inPlace.filter((part) => !reached.has(part));
}

/** The same loads under names that end in their part: `push top 0 deg on rail`. */
export const onPart = (scene: Scene, loads: readonly PartLoad[]): readonly PartLoad[] =>
  loads.map((load) => ({ ...load, name: `${load.name} on ${scene.parts[load.part]!.part.id}` }));

/**
 * What parts other than the newcomer must carry in a state: those that are loose, and the one that is held beside it.
 * The same pushes as when they came, and the torch at the tacks about to be laid on them.
 */
export function looseLoads(
  scene: Scene,
  { inPlace, tacks }: Pick<AssemblyState, 'inPlace' | 'tacks'>,
  newcomer: number,
  beside: number | undefined,
  touched: readonly TouchedJoint[],
  settings: Settings,
): readonly PartLoad[] {
  const loose = looseParts(inPlace, tacks);
  return inPlace
    .filter((part) => part !== newcomer && (part === beside || loose.includes(part)))
    .flatMap((part) => {
      const touches = touched.filter(({ a, b }) => a === part || b === part);
      const torch = touches.flatMap(({ touch }) => torchLoads(part, touch, settings));
      return onPart(scene, [...pushLoads(scene, part, settings), ...torch]);
    });
}
