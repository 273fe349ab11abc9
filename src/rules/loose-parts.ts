import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { AssemblyState } from './assembly.js';
import { pushLoads, torchLoads, wireLoads, type PartLoad, type TouchedTack } from './load-cases.js';

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
export const onPart = (scene: Scene, part: number, loads: readonly PartLoad[]): readonly PartLoad[] =>
  loads.map((load) => ({ ...load, name: `${load.name} on ${scene.parts[part]!.part.id}` }));

/**
 * What parts other than the newcomer must carry in a state: those that are loose, and the one that is held beside it.
 * The same pushes as when they came, the torch at the tacks about to be laid on them, and wires frozen to such tacks.
 */
export function looseLoads(
  scene: Scene,
  { inPlace, tacks }: Pick<AssemblyState, 'inPlace' | 'tacks'>,
  newcomer: number,
  beside: number | undefined,
  { touched, wired }: { readonly touched: readonly TouchedTack[]; readonly wired: readonly TouchedTack[] },
  settings: Settings,
): readonly PartLoad[] {
  const on = (list: readonly TouchedTack[], part: number): readonly TouchedTack[] =>
    list.filter(({ tack: { a, b } }) => a === part || b === part);
  const loose = looseParts(inPlace, tacks);
  return inPlace
    .filter((part) => part !== newcomer && (part === beside || loose.includes(part)))
    .flatMap((part) => {
      const others = inPlace.filter((other) => other !== part);
      return onPart(scene, part, [
        ...pushLoads(scene, part, others, settings),
        ...on(touched, part).flatMap(({ touch }) => torchLoads(part, touch, settings)),
        ...on(wired, part).flatMap(({ touch }) => wireLoads(part, touch, settings)),
      ]);
    });
}
