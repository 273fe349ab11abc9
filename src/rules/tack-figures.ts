import { along } from '../geometry/vector.js';
import {
  codeStrength,
  effectiveLength,
  shearStrength,
  temporaryStrength,
  throat,
  type WeldSteel,
} from '../mechanics/tack-strength.js';
import type { Finding } from '../model/finding.js';
import type { PlanTack } from '../model/plan.js';
import type { StatedTack } from './stage-tacks.js';
import { rootGap } from './distortion-tacks.js';
import { heatOf, secondsAsLeft, secondsAtLetGo } from './hot-tacks.js';
import { breach, shown, type RuleContext } from './rule.js';
import type { SeamPlace } from './seam-places.js';

/** A tack of a plan with its seam, where it is stated, and whether the part of its stage is held on. */
export interface FiguredTack {
  readonly tack: PlanTack | StatedTack;
  readonly seam: SeamPlace;
  readonly where: string;
  readonly heldOn: boolean;
}

/** Legs and lengths are rounded, mm, and temperatures, C; strengths may differ by this share. */
const ROUNDING = 0.01;
const DEGREE = 0.1;
const STRENGTH_SHARE = 1e-3;
/** The temporary-strength model is asked cold; what heat takes is stated apart, C. */
const COLD = 20;

/** The steel with the lower design strength; undefined when that of either part is not known. */
function weaker({ scene }: RuleContext, seam: SeamPlace): WeldSteel | undefined {
  const [a, b] = [seam.a, seam.b].map((i) => scene.parts[i]!.part.material.steel);
  if (a === undefined || b === undefined) return undefined;
  return shearStrength(a) <= shearStrength(b) ? a : b;
}

/** The leg is what the settings say, or what the final weld has where that is less, so that the weld covers the tack. */
function legFindings(rule: string, { settings }: RuleContext, { tack, seam, where }: FiguredTack): Finding[] {
  const final = seam.joint.leg;
  const leg = Math.min(settings.tacks.leg, final);
  if (Math.abs(tack.leg - leg) <= ROUNDING) return [];
  const message =
    tack.leg > final + ROUNDING
      ? `tack ${tack.id} has a leg of ${shown(tack.leg)} mm, which the final leg of ${shown(final)} does not cover`
      : `tack ${tack.id} has a leg of ${shown(tack.leg)} mm instead of ${shown(leg)}`;
  return [breach(rule, `${where}.leg`, message, { value: tack.leg, limit: leg })];
}

/** What a tack is said to carry cold by the temporary-strength model, and what by the code. */
function strengthFindings(rule: string, context: RuleContext, { tack, seam, where }: FiguredTack): Finding[] {
  const steel = weaker(context, seam);
  if (steel === undefined) {
    const names = seam.joint.between.join(' and ');
    return [breach(rule, where, `the strength of a tack between ${names} is not known`)];
  }
  const gap = rootGap(context.scene, seam.a, seam.b, along(seam.from, seam.along, seam.length / 2));
  const size = throat(Math.min(context.settings.tacks.leg, seam.joint.leg), gap);
  const byCode = codeStrength(tack.length, size, steel);
  const figures = [
    ['strength', 'carry', temporaryStrength(tack.length, size, steel, COLD), 'N; the model gives'],
    ['codeStrength', 'carry by the code', byCode, 'N; EN 1993-1-8 gives'],
    ['effectiveLength', 'count by the code with', effectiveLength(tack.length, size), 'mm; it is'],
  ] as const;
  const findings = figures.flatMap(([key, words, value, unit]) =>
    Math.abs(tack[key] - value) <= STRENGTH_SHARE * (1 + value)
      ? []
      : [
          breach(
            rule,
            `${where}.${key}`,
            `tack ${tack.id} is said to ${words} ${shown(tack[key])} ${unit} ${shown(value)}`,
            { value: tack[key], limit: value },
          ),
        ],
  );
  const reason = byCode > 0 ? 'long-enough' : 'too-short';
  if (tack.codeReason === reason) return findings;
  const message = `tack ${tack.id} is said to be ${tack.codeReason} for the code; it is ${reason}`;
  return [...findings, breach(rule, `${where}.codeReason`, message)];
}

/** How hot a tack is said to be when it is first relied on. */
function heatFindings(
  rule: string,
  { scene, settings }: RuleContext,
  { tack, seam, where, heldOn }: FiguredTack,
): Finding[] {
  // What a person lays is relied on once the person has left: cold.
  if (!('hot' in tack)) return [];
  const letGo = tack.phase === 'securing' && !heldOn;
  const seconds = letGo ? secondsAtLetGo(scene.cell) : secondsAsLeft(scene.cell);
  const at = along(seam.from, seam.along, tack.start + tack.length / 2);
  const { temperature, factor } = heatOf(scene, { ...seam, at, length: tack.length }, seconds, settings);
  const { hot } = tack;
  if (
    Math.abs(hot.seconds - seconds) <= ROUNDING &&
    Math.abs(hot.temperature - temperature) <= DEGREE &&
    Math.abs(hot.factor - factor) <= STRENGTH_SHARE
  )
    return [];
  const told = `${shown(hot.seconds)} s after its arc ${shown(hot.temperature)} C, a factor of ${shown(hot.factor)}`;
  const message = `tack ${tack.id} is said to be ${told}; it is ${shown(seconds)} s, ${shown(temperature)} C and ${shown(factor)}`;
  return [breach(rule, `${where}.hot`, message, { value: hot.factor, limit: factor })];
}

/** Leg, strengths and heat of one tack. */
export const figureFindings = (rule: string, context: RuleContext, tack: FiguredTack): Finding[] => [
  ...legFindings(rule, context, tack),
  ...strengthFindings(rule, context, tack),
  ...heatFindings(rule, context, tack),
];
