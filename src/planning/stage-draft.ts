import { siteId } from '../facts/tack-sites.js';
import type { TorchMotion } from '../facts/torch-motion.js';
import { holdBy, type HeldGrip } from './held-grip.js';
import type { AlsoHeld } from './other-hold.js';
import type { ChosenTack } from './tack-layout.js';
import type { Phases } from './tack-order.js';
import { sharedOut } from './torch-shares.js';
import type { FitUp } from '../facts/accuracy.js';
import type { Way } from './ways.js';

/** A tack with its id, its place in the stage's order, and which torch lays it and how it moves. */
export interface StageTack extends ChosenTack {
  readonly id: string;
  readonly order: number;
  readonly phase: 'securing' | 'completing';
  readonly motion: TorchMotion;
}

/** On what a part stands once it is let go, what is held while its securing tacks are laid, and its tacks in order. */
export interface Holding {
  /** Whether the part itself is held. */
  readonly held: boolean;
  /** An earlier part that is held. */
  readonly alsoHeld: AlsoHeld | undefined;
  readonly stands: 'clamped' | 'free-standing' | 'tacked' | 'held';
  /** Force with which the part is pulled at before it is let go, N; undefined where its tacks may lose any one. */
  readonly proofPull?: number | undefined;
  readonly tacks: readonly StageTack[];
}

/** One stage as the planner decides it: everything but its place in time. */
export interface StageDraft extends Holding {
  /** Index angle of the work table, degrees; 0 where it stands still. */
  readonly angle: number;
  readonly part: number;
  readonly way: Way;
  readonly fitUp: FitUp;
}

/** The hold of a part by the grip that brought it. */
export const heldOn = ({ part, way }: StageDraft): AlsoHeld => ({
  part,
  grip: way.grip,
  motion: way.place,
  come: way.come,
  go: way.go,
  kept: true,
});

/** What is held while the securing tacks of a stage are laid, and how the arms stand. */
export const holdsOf = ({ part, way, held, alsoHeld }: StageDraft): readonly HeldGrip[] => [
  ...(held ? [holdBy(part, way)] : []),
  ...(alsoHeld ? [alsoHeld] : []),
];

/**
 * Gives the tacks of a stage their number, phase, id and torch motion, and with it the welding robot. They are given in
 * the usual order, by which the robots share them; `order` has their places in it as they shall be laid.
 */
export function numbered({ securing, completing }: Phases, order: readonly number[]): readonly StageTack[] {
  const usual = [...securing, ...completing];
  const motions = [
    ...sharedOut(securing.map(({ site, held }) => ({ site, motions: held }))),
    ...sharedOut(completing.map(({ site, free }) => ({ site, motions: free }))),
  ];
  return order.map((place, i) => ({
    ...usual[place]!,
    id: siteId(usual[place]!.site),
    order: i + 1,
    phase: i < securing.length ? ('securing' as const) : ('completing' as const),
    motion: motions[place]!,
  }));
}
