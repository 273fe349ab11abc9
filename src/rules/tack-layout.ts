import { along } from '../geometry/vector.js';
import type { Finding } from '../model/finding.js';
import { thicknessAlong } from '../model/group.js';
import { clearOfCorners, cornersOn } from '../model/seam-relations.js';
import { endMargin, largestPitch, leastLength } from '../model/tack-settings.js';
import { breach, shown, type RuleContext } from './rule.js';
import { seamRun, type SeamPlace } from './seam-places.js';
import type { StatedTack } from './stage-tacks.js';

/** A tack on the seam in question, and where the plan states it. */
export interface SeamTack {
  readonly tack: StatedTack;
  readonly where: string;
}

/** What the settings ask of the tacks of one seam, mm. */
export interface SeamDemand {
  readonly seamLength: number;
  /** Least length of a tack. */
  readonly least: number;
  /** Of a tack from the ends of the seam. */
  readonly endDistance: number;
  /** Places at which other seams meet it, along it, and how far a tack keeps from them. */
  readonly corners: readonly number[];
  readonly cornerDistance: number;
  /** Greatest distance of neighbouring tack middles, and of the outer ones from the ends of the seam. */
  readonly pitch: number;
  /** Least number of tacks: what the settings ask, or as many as there is room for. */
  readonly number: number;
  /** Length of the single, centred tack of a seam too short for a whole one; undefined for longer seams. */
  readonly single: number | undefined;
}

/** A single tack is never shorter than this, mm, unless the seam is. */
const SHORTEST = 10;
/** There is room for a whole number of tacks where no more than this share of one is missing: the last bit of a length. */
const WHOLE = 1e-6;
/** Positions and lengths are rounded, mm. */
const ROUNDING = 0.05;
/** Sites are on tenths of a millimetre, so the middle is met within one. */
const OFF_MIDDLE = 0.1 + 1e-6;

/** What is asked of a seam, with all seams of the weldment. */
export function seamDemand(
  { scene, settings }: RuleContext,
  seam: SeamPlace,
  seams: readonly SeamPlace[],
): SeamDemand {
  const end = along(seam.from, seam.along, seam.length);
  const thicknesses = [seam.a, seam.b].map((part) => thicknessAlong(scene.parts[part]!, seam.from, end));
  const rules = settings.tacks;
  const endDistance = endMargin(rules);
  const least = leastLength(rules, Math.max(...thicknesses));
  const others = seams.filter((other) => other !== seam).map(seamRun);
  const usable = seam.length - 2 * endDistance;
  return {
    seamLength: seam.length,
    least,
    endDistance,
    corners: cornersOn(seamRun(seam), others),
    cornerDistance: rules['corner-distance'],
    pitch: largestPitch(rules, Math.min(...thicknesses)),
    number: Math.max(1, Math.min(rules['least-number'], Math.floor(usable / least + WHOLE))),
    single: usable < least - ROUNDING ? Math.max(Math.min(SHORTEST, seam.length), usable) : undefined,
  };
}

/** A seam too short for a whole tack: one in its middle. */
function singleFindings(
  rule: string,
  { single, seamLength }: SeamDemand,
  own: readonly SeamTack[],
  where: string,
): Finding[] {
  const findings: Finding[] = [];
  const count = own.length;
  if (count > 1) {
    const message = `a seam of ${shown(seamLength)} mm has room for one tack, not ${count}`;
    findings.push(breach(rule, where, message, { value: count, limit: 1 }));
  }
  for (const { tack, where: at } of own) {
    const off = tack.start + tack.length / 2 - seamLength / 2;
    if (Math.abs(off) > OFF_MIDDLE) {
      const message = `tack ${tack.id} is ${shown(Math.abs(off))} mm off the middle of its seam`;
      findings.push(breach(rule, `${at}.start`, message, { value: off, limit: 0 }));
    }
    if (Math.abs(tack.length - single!) > ROUNDING) {
      const message = `tack ${tack.id} is ${shown(tack.length)} mm instead of ${shown(single!)}`;
      findings.push(breach(rule, `${at}.length`, message, { value: tack.length, limit: single! }));
    }
  }
  return findings;
}

/** The corner that a tack is too near to, if there is one. */
function cornerFindings(
  rule: string,
  { corners, cornerDistance }: SeamDemand,
  { tack, where }: SeamTack,
): Finding[] {
  const end = tack.start + tack.length;
  const near = corners.find(
    (corner) => !clearOfCorners(tack.start, end, [corner], cornerDistance - ROUNDING),
  );
  if (near === undefined) return [];
  const away = Math.max(0, tack.start - near, near - end);
  const message = `tack ${tack.id} is ${shown(away)} mm from a corner at ${shown(near)} mm, where another seam meets its seam; ${shown(cornerDistance)} is asked for`;
  return [breach(rule, `${where}.start`, message, { value: away, limit: cornerDistance })];
}

/** Each tack by itself on a seam with room: length, distance from the ends and from corners. */
function eachFindings(rule: string, demand: SeamDemand, own: readonly SeamTack[]): Finding[] {
  return own.flatMap(({ tack, where }) => {
    const findings: Finding[] = [];
    if (tack.length < demand.least - ROUNDING)
      findings.push(
        breach(
          rule,
          `${where}.length`,
          `tack ${tack.id} is ${shown(tack.length)} mm long; at least ${shown(demand.least)} is asked for`,
          { value: tack.length, limit: demand.least },
        ),
      );
    const toEnd = Math.min(tack.start, demand.seamLength - tack.start - tack.length);
    if (toEnd < demand.endDistance - ROUNDING)
      findings.push(
        breach(
          rule,
          `${where}.start`,
          `tack ${tack.id} ends ${shown(toEnd)} mm from the end of its seam; ${shown(demand.endDistance)} is asked for`,
          { value: toEnd, limit: demand.endDistance },
        ),
      );
    findings.push(...cornerFindings(rule, demand, { tack, where }));
    return findings;
  });
}

const middle = ({ tack }: SeamTack): number => tack.start + tack.length / 2;

/** The tacks of a seam together: pitch between neighbours and to the ends, and no overlap. */
function rowFindings(rule: string, demand: SeamDemand, own: readonly SeamTack[], where: string): Finding[] {
  const sorted = [...own].sort((a, b) => middle(a) - middle(b));
  const findings: Finding[] = [];
  const stops = [0, ...sorted.map(middle), demand.seamLength];
  const widest = Math.max(...stops.slice(1).map((stop, i) => stop - stops[i]!));
  if (widest > demand.pitch + ROUNDING)
    findings.push(
      breach(
        rule,
        where,
        `the tacks leave ${shown(widest)} mm of seam; the pitch is at most ${shown(demand.pitch)}`,
        {
          value: widest,
          limit: demand.pitch,
        },
      ),
    );
  sorted.slice(1).forEach(({ tack, where: at }, i) => {
    const before = sorted[i]!.tack;
    const between = tack.start - before.start - before.length;
    if (between < -ROUNDING)
      findings.push(
        breach(rule, `${at}.start`, `tacks ${before.id} and ${tack.id} overlap by ${shown(-between)} mm`, {
          value: between,
          limit: 0,
        }),
      );
  });
  return findings;
}

/** What is wrong with the tacks of one of the seams; `where` is the list they should be in. */
export function seamFindings(
  rule: string,
  context: RuleContext,
  seam: SeamPlace,
  seams: readonly SeamPlace[],
  own: readonly SeamTack[],
  where: string,
): Finding[] {
  const demand = seamDemand(context, seam, seams);
  if (own.length < demand.number) {
    const message = `seam ${seam.id} has ${own.length} tacks; at least ${demand.number} are asked for`;
    return [breach(rule, where, message, { value: own.length, limit: demand.number })];
  }
  if (demand.single !== undefined) return singleFindings(rule, demand, own, where);
  return [...eachFindings(rule, demand, own), ...rowFindings(rule, demand, own, where)];
}
