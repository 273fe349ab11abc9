import { rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { compose, type Pose } from '../geometry/pose.js';
import { codeStrength, effectiveLength, throat } from '../mechanics/tack-strength.js';
import type { PlanRework, PlanTack } from '../model/plan.js';
import { sidesMissed } from '../model/seam-relations.js';
import { heatOf, secondsAsLeft, secondsAtLetGo } from '../rules/hot-tacks.js';
import type { Rework } from './rework.js';
import type { HandTack, StageDraft, StageTack } from './stage-draft.js';
import { statedPose } from './stated-pose.js';
import { statedJoints } from './steps.js';

/** What tacks are stated by: the facts, whether the part of their stage is held on, and the way of poses into the cell. */
export interface Stating {
  readonly facts: Facts;
  readonly heldOn: boolean;
  readonly inCell: (pose: Pose) => Pose;
}

/** Stating the tacks of a stage; `frame` takes poses to the cell where the work table has turned. */
export const statingOf = (facts: Facts, { stands }: StageDraft, frame: Pose | undefined): Stating => ({
  facts,
  heldOn: stands === 'held',
  inCell: (pose) => (frame ? compose(frame, pose) : pose),
});

/** Strength by the code, and why it is none. */
export function byCode(
  { scene }: Facts,
  tack: StageTack | HandTack,
): Pick<PlanTack, 'codeStrength' | 'codeReason' | 'effectiveLength'> {
  const size = throat(tack.leg, tack.site.seam.gap);
  const strengths = [tack.a, tack.b].map((part) =>
    codeStrength(tack.length, size, scene.parts[part]!.part.material.steel!),
  );
  const strength = Math.min(...strengths);
  return {
    codeStrength: rounded(strength, 3),
    codeReason: strength > 0 ? 'long-enough' : 'too-short',
    effectiveLength: rounded(effectiveLength(tack.length, size), 3),
  };
}

/** How hot a tack is when it is first relied on: at the let-go, or as its torch leaves it. */
function statedHeat({ facts, heldOn }: Stating, tack: StageTack): PlanTack['hot'] {
  const { scene, settings } = facts;
  const letGo = tack.phase === 'securing' && !heldOn;
  const seconds = letGo ? secondsAtLetGo(scene.cell) : secondsAsLeft(scene.cell);
  const { temperature, factor } = heatOf(scene, tack, seconds, settings);
  return { seconds, temperature: rounded(temperature, 1), factor: rounded(factor, 4) };
}

export const statedTack = (stating: Stating, tack: StageTack): PlanTack => ({
  id: tack.id,
  robot: tack.motion.robot,
  joint: tack.site.joint.id,
  seam: tack.site.seam.id,
  start: tack.site.start,
  length: tack.length,
  leg: tack.leg,
  order: tack.order,
  phase: tack.phase,
  strength: rounded(tack.strength, 3),
  hot: statedHeat(stating, tack),
  ...byCode(stating.facts, tack),
  position: tack.motion.way.position,
  torch: {
    start: statedPose(stating.inCell(tack.motion.start)),
    end: statedPose(stating.inCell(tack.motion.end)),
    clear: statedJoints(tack.motion.clear),
    joints: statedJoints(tack.motion.joints),
    jointsEnd: statedJoints(tack.motion.jointsEnd),
    leave: statedJoints(tack.motion.leave),
  },
});

export const statedRework = (stating: Stating, { instead, other, none }: Rework): PlanRework => ({
  instead: instead.id,
  tack: other === undefined ? null : statedTack(stating, other.tack),
  ...(none === undefined ? {} : { none }),
});

/** Ids of the tacks of a stage that do not lie to those on the other side as the settings wish, in their order. */
export function statedSides({ settings }: Facts, { tacks }: Pick<StageDraft, 'tacks'>): string[] {
  const joints = [...new Set(tacks.map(({ site }) => site.joint))];
  const all: readonly (StageTack | HandTack)[] = tacks;
  const missed = joints.flatMap(({ seams }) => {
    const own = seams.map((seam) => all.filter(({ site }) => site.seam === seam));
    const places = own.map((list) => list.map(({ site }) => site));
    return sidesMissed(settings.tacks.sides, seams, places).flatMap((list, i) =>
      list.map((k) => own[i]![k]!),
    );
  });
  return all.filter((tack) => missed.includes(tack)).map(({ id }) => id);
}
