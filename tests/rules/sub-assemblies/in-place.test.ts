import { beforeAll, describe, expect, it } from 'vitest';
import { Budget } from '../../../src/base/budget.js';
import { place, rotate } from '../../../src/geometry/pose.js';
import { subtract, type Vec3 } from '../../../src/geometry/vector.js';
import { judge } from '../../../src/mechanics/equilibrium.js';
import { groupPart, groupPose } from '../../../src/model/group-part.js';
import { buildScene, type Scene } from '../../../src/model/scene.js';
import { DEFAULT_SETTINGS } from '../../../src/model/settings.js';
import type { MemberTack } from '../../../src/model/shape.js';
import { factsOf, planWeldment, type PlanningReport } from '../../../src/planning/plan.js';
import { assemblySystem, type AssemblyState } from '../../../src/rules/assembly.js';
import { liftOutLoads } from '../../../src/rules/lift-out.js';
import { asDisturbances, pushLoads, torchLoads, type PartLoad } from '../../../src/rules/load-cases.js';
import { checkWhole } from '../../../src/rules/sub-assemblies/check-whole.js';
import { splitOf, type WholePlan } from '../../../src/rules/sub-assemblies/split-context.js';
import { testCell } from '../../support/cell.js';
import { Planner } from '../../support/planned.js';
import { standWeldment, steelPart } from '../../support/stand-weldment.js';
import { stackedPlan } from './stacked.js';

const GRAVITY = 9.80665;
const STRENGTH = 600;

/** A beam of 6 kg out of a post on the table, 0.8 mm apart, so that only tacks carry it: our own invention. */
const post = steelPart('post', { kind: 'block', length: 60, width: 60, height: 200 }, [0, 0, 100]);
const beam = {
  ...steelPart('beam', { kind: 'block', length: 200, width: 40, height: 40 }, [130.8, 0, 150]),
  massGiven: 6,
};
const apart = { ...standWeldment(), parts: [post, beam], joints: [], needs: [], first: undefined };
const ARM = { name: 'arm', parts: ['post', 'beam'] };

/** Tacks across the beam, above and below it, 40 mm apart, 100 mm from its centre of mass. */
const tacks = [170, 130].map((z): MemberTack => ({
  between: ['post', 'beam'],
  at: subtract([30.8, 0, z], groupPose(apart, ARM).at),
  ...{ along: [0, 1, 0], length: 20, strength: STRENGTH },
}));
const sceneOf = (own: readonly MemberTack[] | undefined): Scene =>
  buildScene(
    { ...apart, parts: [groupPart(apart, ARM, { beads: [], tacks: own })] },
    testCell(),
    DEFAULT_SETTINGS,
  );

let planner: Planner;
let whole: WholePlan;
beforeAll(async () => {
  planner = await Planner.load();
  whole = stackedPlan(planner);
});

function reserves(scene: Scene, state: Partial<AssemblyState>, loads: readonly PartLoad[]) {
  const all = { inPlace: [0], tacks: [], held: [], ...state };
  const assembly = assemblySystem(scene, all, DEFAULT_SETTINGS);
  const { gravity, disturbances } = judge(
    planner.programs,
    assembly.system,
    asDisturbances(loads, assembly),
    { cold: true },
  );
  return [gravity.reserve, ...disturbances.map(({ reserve }) => reserve)];
}

/** A torch comes down on the beam, so far beside its tacks. */
function touchAt(scene: Scene, away: number): readonly PartLoad[] {
  const { weldmentPose: frame } = scene.cell;
  const way = (v: Vec3): Vec3 => rotate(frame.turn, v);
  const at = place(frame, [30.8 + away, 0, 170]);
  const touch = { id: 't', at, along: way([0, 1, 0]), open: way([0, 0, 1]) };
  return torchLoads(0, touch, DEFAULT_SETTINGS).slice(0, 1);
}

describe('a sub-assembly in its place', () => {
  // A load L at a distance d pulls L d / h at one tack and pushes as much at the other, h apart; with its shares V of L
  // each carries L d / h + V <= S (an octahedron), together L (2 d / h + 1) <= 2 S; S is half of STRENGTH by the reduction.
  const lever = (d: number): number => (2 * d) / 40 + 1;
  const weight = 6 * GRAVITY;

  it('carries a torch on a member by its inner tacks only', () => {
    const scene = sceneOf(tacks);
    const touch = DEFAULT_SETTINGS.loads['torch-touch'];
    const [standing, touched] = reserves(scene, {}, touchAt(scene, 160));
    expect(standing).toBeCloseTo(STRENGTH / (weight * lever(100)), 5);
    const left = STRENGTH - weight * lever(100);
    expect(touched).toBeCloseTo(left / (touch * lever(160)), 5);
    expect(touched).toBeLessThan(DEFAULT_SETTINGS.reserves.disturbance);
  });

  it('is lifted out by the member that stands on the table: the other one hangs on its tacks', () => {
    const scene = sceneOf(tacks);
    const loads = liftOutLoads(scene, [0], DEFAULT_SETTINGS);
    expect(loads).toHaveLength(5);
    const [standing, up] = reserves(scene, { lifted: true }, loads);
    const inertia = 6 * DEFAULT_SETTINGS.loads['lift-acceleration'];
    expect(standing).toBeCloseTo(STRENGTH / (weight * lever(100)), 5);
    expect(up).toBeCloseTo((STRENGTH - weight * lever(100)) / (inertia * lever(100)), 5);
  });

  it('is pushed by each member too', () => {
    const scene = sceneOf(tacks);
    const { mass } = scene.insides[0]!.members[0]!;
    const loads = pushLoads(scene, 0, [], DEFAULT_SETTINGS);
    const at = (id: string): readonly PartLoad[] => loads.filter(({ name }) => name.endsWith(` at ${id}`));
    expect(loads).toHaveLength(3 * at('beam').length);
    const { 'push-share': share, 'push-least': least } = DEFAULT_SETTINGS.loads;
    for (const [member, id, weighed] of [
      [0, 'post', mass],
      [1, 'beam', 6],
    ] as const)
      for (const { forces } of at(id)) {
        expect(forces[0]!.member).toBe(member);
        expect(Math.hypot(...forces[0]!.force)).toBeCloseTo(Math.max(share * weighed * GRAVITY, least), 9);
      }
    const foot = Math.min(...at('beam').map(({ forces }) => forces[0]!.at[2]));
    expect(foot).toBeCloseTo(place(scene.cell.weldmentPose, [0, 0, 130])[2], 9);
  });

  it('falls apart without tacks, and is one body as long as they are not known', () => {
    const none = sceneOf([]);
    expect(reserves(none, {}, [])).toEqual([0]);
    const rigid = sceneOf(undefined);
    expect(reserves(rigid, {}, touchAt(rigid, 160))[1]).toBeGreaterThan(2);
  });

  it('is carried as its parts are where these are parts of the weldment', () => {
    const scene = sceneOf(tacks);
    const plain = buildScene(apart, testCell(), DEFAULT_SETTINGS);
    const laid = scene.insides[0]!.tacks.map((tack) => ({ ...tack }));
    const touches = touchAt(scene, 160).map(({ name, forces }) => ({
      name,
      forces: forces.map((force) => ({ ...force, part: 1 })),
    }));
    const alone = reserves(plain, { inPlace: [0, 1], tacks: laid }, touches);
    for (const [i, reserve] of reserves(scene, {}, touchAt(scene, 160)).entries())
      expect(alone[i]).toBeCloseTo(reserve, 6);
  });

  it('stands as one body where its tacks are strong', () => {
    const { main } = splitOf(whole.weldment, whole.plan);
    const scene = buildScene(main, whole.cell, DEFAULT_SETTINGS);
    const [base, stand] = ['base', 'stand'].map((id) => scene.index.get(id)!);
    const loads = pushLoads(scene, stand!, [base!], DEFAULT_SETTINGS).filter(
      ({ name }) => !/ at /.test(name),
    );
    const state = { inPlace: [base!, stand!] };
    const rigid = { ...scene, insides: scene.insides.map(() => undefined) };
    const alone = reserves(rigid, state, pushLoads(rigid, stand!, [base!], DEFAULT_SETTINGS));
    const bodies = reserves(scene, state, loads);
    expect(bodies).toHaveLength(alone.length);
    for (const [i, reserve] of bodies.entries()) expect(reserve).toBeCloseTo(alone[i]!, 4);
  });
});

describe('a sub-assembly whose tacks do not carry what comes upon it in its place', () => {
  /** The weldment with the sub-assembly as a part, planned as if its tacks had this share of their strength. */
  const planned = (share: number): PlanningReport => {
    const { main } = splitOf(whole.weldment, whole.plan);
    const parts = main.parts.map((part) => {
      const { shape } = part;
      if (shape.kind !== 'group') return part;
      const weak = shape.tacks!.map((tack) => ({ ...tack, strength: tack.strength * share }));
      return { ...part, shape: { ...shape, tacks: weak } };
    });
    const { settings } = whole.plan;
    return planWeldment(factsOf({ ...main, parts }, whole.cell, settings, planner.programs), {
      budget: () => new Budget({ steps: 400 }),
    });
  };

  it('has no plan, and has one as soon as they carry it', () => {
    expect(planned(1).search.best).toBeDefined();
    // Less than 3 N of each tack: the grip, the torch and the let-go ask for tens.
    const { outcome, best } = planned(1e-4).search;
    expect([outcome, best]).toEqual(['impossible', undefined]);
  });

  it('is told by the check, of the stages in which it comes and not only of its own plan', () => {
    const plan = JSON.parse(JSON.stringify(whole.plan)) as WholePlan['plan'];
    for (const { tacks: own } of plan.subAssemblies![0]!.plan.stages)
      for (const tack of own) tack.strength = 10;
    const told = checkWhole({ ...whole, plan })
      .filter(({ rule, where }) => rule === 'reserves-hold' && where === 'stages[1].reserves')
      .map(({ message }) => message.replace(/ has a reserve.*/, ''));
    expect(told).toContain('let-go, stand joining: let-go pull');
    expect(told).toContain('held, stand joining: torch touch J1.1@10 along');
    expect(told).toContain('complete, stand joining: push top 45 deg');
  });
});
