import { issueLine } from '../../src/model/issue.js';
import type { GeometricPlan, Remedy, Stage } from '../../src/model/plan.js';
import type { Refusal } from '../../src/model/verdict.js';
import { codeEntry } from '../../src/report/codes/code-entries.js';
import type { PlanOutcome } from '../../src/session/plan.js';
import type { Expectation, Impossible, Planned } from './expectation.js';
import { faultDifferences } from './fault-wishes.js';
import { byHand } from './people.js';
import { signalsAround } from './signals-around.js';
import { tackOrderDifferences } from './tack-orders.js';
import { atOnce, tackedBy } from './torches.js';

type Triple = readonly [number, number, number];
type ImpossibleOutcome = Extract<PlanOutcome, { kind: 'impossible' }>;

/** What differs between an outcome and what a story expects, one line each; empty when the story holds. */
export function differences(outcome: PlanOutcome, expected: Expectation): readonly string[] {
  return [...otherThan(outcome, expected), ...unlisted(outcome)];
}

/** Codes that an outcome gives and the table of codes does not have. */
export function unlisted(outcome: PlanOutcome): readonly string[] {
  const reasons = 'reasons' in outcome ? outcome.reasons : [];
  const refusals = reasons.flatMap((reason) => [reason, reason.nearest, reason.nearest?.nearest]);
  const issues = [
    ...('issues' in outcome ? outcome.issues : []),
    ...('warnings' in outcome ? outcome.warnings : []),
  ];
  return [...refusals, ...issues].flatMap((one) =>
    one === undefined || codeEntry(one.code) !== undefined ? [] : [`the code ${one.code} is in no table`],
  );
}

function otherThan(outcome: PlanOutcome, expected: Expectation): readonly string[] {
  if (outcome.kind !== expected.kind) return [`got ${told(outcome)}; expected ${expected.kind}`];
  if (outcome.kind === 'bad-input' && expected.kind === 'bad-input')
    return differ('issues', outcome.issues.map(issueLine), expected.issues);
  if (outcome.kind === 'impossible' && expected.kind === 'impossible')
    return impossibleDifferences(outcome, expected);
  if (outcome.kind === 'none-found' && expected.kind === 'none-found')
    return [
      ...missingReasons(outcome.reasons, expected.reasons),
      ...(expected.left
        ? differ('left out', outcome.deepest?.left.map(({ part }) => part).sort(), [...expected.left].sort())
        : []),
    ];
  if (outcome.kind === 'planned' && expected.kind === 'planned')
    return outcome.plan.kind === 'geometric'
      ? planDifferences(outcome.plan, expected)
      : ['the plan is abstract; stories are about parts with shapes'];
  return ['nothing was compared'];
}

function told(outcome: PlanOutcome): string {
  switch (outcome.kind) {
    case 'bad-input':
      return ['bad-input', ...outcome.issues.map(issueLine)].join('\n  ');
    case 'impossible':
      return ['impossible', ...outcome.reasons.map((reason) => JSON.stringify(reason))].join('\n  ');
    case 'none-found':
      return ['none-found', ...outcome.reasons.map((reason) => JSON.stringify(reason))].join('\n  ');
    case 'defect':
      return ['defect', ...outcome.findings.map((finding) => JSON.stringify(finding))].join('\n  ');
    default:
      return outcome.kind;
  }
}

function differ(what: string, got: unknown, wanted: unknown): string[] {
  const [a, b] = [got, wanted].map((value) => JSON.stringify(value, null, 1));
  return a === b ? [] : [`${what}: got ${a}; expected ${b}`];
}

const givenText = (reasons: readonly Refusal[]): string =>
  reasons
    .map(
      ({ code, subjects, nearest }) =>
        `${code} ${subjects.join(' ')}${nearest ? ` (nearest ${nearest.code} ${nearest.value} of ${nearest.limit})` : ''}`,
    )
    .join(', ');

function tackStarts(stage: Stage | undefined): Readonly<Record<string, readonly number[]>> {
  const tacks = stage?.tacks ?? [];
  const seams = [...new Set(tacks.map(({ seam }) => seam))].sort();
  return Object.fromEntries(
    seams.map((seam) => [
      seam,
      tacks.flatMap((tack) => (tack.seam === seam ? [tack.start] : [])).sort((a, b) => a - b),
    ]),
  );
}

/** What the wish behind a reason is about, `not held` where it forbids that. */
function wishWord({ fact }: Refusal): string | undefined {
  const { wished } = fact ?? {};
  return wished && `${wished.never ? 'not ' : ''}${Object.keys(wished)[0]!}`;
}

function missingReasons(reasons: readonly Refusal[], wanted: Impossible['reasons']): string[] {
  return wanted
    .filter(
      ({ code, names, nearest, against, kind, wish, at }) =>
        !reasons.some(
          (reason) =>
            reason.code === code &&
            names.every((name) => reason.subjects.includes(name)) &&
            (kind === undefined || reason.fact?.kind === kind) &&
            (wish === undefined || wishWord(reason) === wish) &&
            (at === undefined || reason.fact?.wish === at) &&
            (nearest === undefined || sameMiss(reason.nearest, nearest)) &&
            (against === undefined || isAgainst(reason.nearest?.nearest, against)),
        ),
    )
    .map(
      ({ code, names, kind = '', wish = '', at = '' }) =>
        `no reason ${[code, ...names, kind, wish, at].join(' ').trim()} among: ${givenText(reasons)}`,
    );
}

function impossibleDifferences(outcome: ImpossibleOutcome, expected: Impossible): string[] {
  const { scope, reasons, also } = outcome;
  const extra = expected['no-other-reason'] && reasons.length > expected.reasons.length;
  return [
    ...differ('scope', scope, expected.scope),
    ...differ('of', outcome.of, expected.of),
    ...missingReasons(reasons, expected.reasons),
    ...expected.also.flatMap((wanted) =>
      also.some((set) => missingReasons(set.reasons, wanted).length === 0)
        ? []
        : [
            `no independent set ${JSON.stringify(wanted)} among: ${also.map((set) => givenText(set.reasons)).join(' / ')}`,
          ],
    ),
    ...(extra ? [`more reasons than are needed: ${givenText(reasons)}`] : []),
    ...remedyDifferences(outcome, expected),
  ];
}

function remedyDifferences(
  { remedies = [], remedySearch }: ImpossibleOutcome,
  expected: Impossible,
): string[] {
  const { 'would-help': helps, 'tried-in-vain': inVain } = expected;
  if (helps === undefined) return [];
  const offered = remedies.map(({ kind }) => kind);
  const untried = inVain.filter((kind) => remedySearch?.kinds.includes(kind) !== true);
  return [
    ...differ('would-help', offered, helps),
    ...untried.map((kind) => `${kind} was not tried`),
    ...inVain.filter((kind) => offered.includes(kind)).map((kind) => `${kind} is offered`),
  ];
}

const sameMiss = (
  got: Refusal | undefined,
  wanted: NonNullable<Impossible['reasons'][number]['nearest']>,
): boolean =>
  got?.code === wanted.code &&
  (wanted.names ?? []).every((one) => got.subjects.includes(one)) &&
  sameNumber(got.value, wanted.value) &&
  sameNumber(got.limit, wanted.limit);

const sameNumber = (got: number | undefined, wanted: number | undefined): boolean =>
  wanted === undefined ? got === undefined : near(got, wanted);

const isAgainst = (
  got: Refusal | undefined,
  { code, names }: NonNullable<Impossible['reasons'][number]['against']>,
): boolean => got?.code === code && names.every((name) => got.subjects.includes(name));

const near = (got: number | null | undefined, wanted: number): boolean =>
  typeof got === 'number' && Math.abs(got - wanted) <= 1e-3;

const REMEDIES: readonly Remedy[] = ['locate', 'seat', 'seam-search'];

/** Remedies of a stage, and whether the programs do what they are. */
function remedied(
  plan: GeometricPlan,
  { number, part, remedies }: Stage,
  wanted: readonly Remedy[],
): string[] {
  const done = plan.programs.flatMap(({ steps }) => steps.filter((step) => step.stage === number));
  return [
    ...differ(`remedies of ${part}`, remedies, wanted),
    ...REMEDIES.flatMap((kind) =>
      done.some((step) => step.do === kind) === wanted.includes(kind)
        ? []
        : [`the programs of ${part} have ${wanted.includes(kind) ? 'no' : 'a'} step ${kind}`],
    ),
  ];
}

function accurate({ part, accuracy }: Stage, wanted: NonNullable<Planned['accuracy']>[string]): string[] {
  return entries(wanted).flatMap(([direction, numbers]) => {
    const stated = accuracy.find((one) => one.direction === direction);
    const without = numbers?.without;
    if (
      near(stated?.total, numbers?.total ?? NaN) &&
      (without === undefined ? stated?.without === null : near(stated?.without, without))
    )
      return [];
    return [`${direction} of ${part}: got ${JSON.stringify(stated)}; expected ${JSON.stringify(numbers)}`];
  });
}

function planDifferences(plan: GeometricPlan, expected: Planned): string[] {
  const stageOf = (part: string): Stage => {
    const stage = plan.stages.find((one) => one.part === part);
    if (!stage) throw new Error(`the plan has no stage for "${part}"`);
    return stage;
  };
  const held = plan.stages.flatMap((stage) => (stage.held === null ? [] : [stage.part]));
  return [
    ...entries(expected.objective).flatMap(([term, value]) => {
      const found = plan.objective.find((one) => one.term === term);
      return differ(term, [found?.value, found?.bound], [value, value]);
    }),
    ...wholeDifferences(plan, expected),
    ...(expected.before ?? []).flatMap(([first, second]) =>
      stageOf(first).number < stageOf(second).number ? [] : [`${second} joins before ${first}`],
    ),
    ...(expected['proof-pull']
      ? differ(
          'proof pulls',
          plan.stages.flatMap(({ part, proofPull }) => (proofPull === null ? [] : [part])).sort(),
          [...expected['proof-pull']].sort(),
        )
      : []),
    ...(expected.held ? differ('held', held.sort(), [...expected.held].sort()) : []),
    ...(expected['also-held'] ? differ('also held', alsoHeld(plan), expected['also-held']) : []),
    ...(expected['holds-at-once'] === undefined
      ? []
      : differ('holds at once', holdsAtOnce(plan), expected['holds-at-once'])),
    ...entries(expected.angles).flatMap(([part, angle]) =>
      differ(`index angle at which ${part} joins`, stageOf(part).turn, angle),
    ),
    ...entries(expected.stands).flatMap(([part, how]) => differ(`${part} stands`, stageOf(part).stands, how)),
    ...entries(expected['stands-on']).flatMap(([part, wanted]) => {
      const { table = false, parts = [] } = stageOf(part).standsOn ?? {};
      return differ(`${part} stands on`, [...parts, ...(table ? ['the table'] : [])], wanted);
    }),
    ...entries(expected['tacked-in-stage-of']).flatMap(([part, wanted]) =>
      differ(`${part} is first tacked with`, firstTacked(plan, part), wanted),
    ),
    ...entries(expected.regrips).flatMap(([part, number]) =>
      differ(`regrips of ${part}`, stageOf(part).handling.length - 1, number),
    ),
    ...entries(expected.grippers).flatMap(([part, gripper]) =>
      differ(`gripper of ${part}`, stageOf(part).handling.at(-1)!.grip.gripper, gripper),
    ),
    ...entries(expected['pad-groups']).flatMap(([part, group]) =>
      differ(`pads on ${part}`, stageOf(part).handling.at(-1)!.grip.group, group),
    ),
    ...entries(expected['set-down']).flatMap(([part, where]) =>
      differ(
        `where ${part} is set down`,
        stageOf(part)
          .handling.slice(0, -1)
          .map(({ put }) => put.to),
        where,
      ),
    ),
    ...entries(expected.remedies).flatMap(([part, wanted]) => remedied(plan, stageOf(part), wanted)),
    ...entries(expected.accuracy).flatMap(([part, wanted]) => accurate(stageOf(part), wanted)),
    ...entries(expected.securing).flatMap(([part, wanted]) => securing(plan, stageOf(part), wanted)),
    ...entries(expected.gaps).flatMap(([part, wanted]) => gaping(stageOf(part), wanted)),
    ...entries(expected.positions).flatMap(([part, wanted]) =>
      differ(
        `positions of ${part}`,
        [...new Set(stageOf(part).tacks.map(({ position }) => position))].sort(),
        wanted,
      ),
    ),
    ...entries(expected['torches-at-once']).flatMap(([part, wanted]) => atOnce(plan, stageOf(part), wanted)),
    ...entries(expected['tack-starts']).flatMap(([part, wanted]) =>
      differ(`starts of tacks of ${part}`, tackStarts(stageOf(part)), wanted),
    ),
    ...entries(expected['sides-missed']).flatMap(([part, wanted]) =>
      differ(`sides missed of ${part}`, stageOf(part)?.sidesMissed, wanted),
    ),
    ...entries(expected['tacked-by']).flatMap(([part, wanted]) => tackedBy(plan, stageOf(part), wanted)),
    ...entries(expected['seams-open']).flatMap(([part, way]) => closedSeams(plan, stageOf(part), way)),
    ...(expected['by-way-of-points']
      ? differ('robots by way of points', byWayOfPoints(plan), expected['by-way-of-points'])
      : []),
    ...(expected['gives-way'] ? differ('who gives way to whom', givenWay(plan), expected['gives-way']) : []),
    ...entries(expected['by-hand']).flatMap(([part, wanted]) => byHand(plan, stageOf(part), wanted)),
    ...tackOrderDifferences(stageOf, expected),
    ...faultDifferences(plan, expected),
    ...(expected.handshakes ?? []).flatMap((part) => signalsAround(plan, stageOf(part))),
  ];
}

function wholeDifferences({ subAssemblies = [], whole }: GeometricPlan, expected: Planned): string[] {
  const groups = Object.fromEntries(subAssemblies.map(({ name, parts }) => [name, parts]));
  const valuesOf = (totals: readonly { term: string; value: number }[] | undefined, terms: object) =>
    Object.fromEntries(
      Object.keys(terms).map((term) => [term, totals?.find((one) => one.term === term)?.value]),
    );
  const { together, 'in-one-piece': onePiece } = expected;
  return [
    ...(expected['sub-assemblies'] ? differ('sub-assemblies', groups, expected['sub-assemblies']) : []),
    ...(together ? differ('together', valuesOf(whole?.objective, together), together) : []),
    ...(onePiece ? differ('in one piece', valuesOf(whole?.inOnePiece?.objective, onePiece), onePiece) : []),
  ];
}

/** Who waits with completing tacks, or before anything else, until the arm of another is out of the way. */
const givenWay = ({ handshakes, stages, programs }: GeometricPlan): readonly string[] =>
  handshakes
    .filter(({ meaning }) => meaning.includes('out of the way'))
    .map(({ from, to }) => {
      const { steps } = programs.find(({ robot }) => robot === to.robot)!;
      const next = steps.slice(to.step).find((step) => step.do === 'tack');
      const tack = stages
        .flatMap(({ tacks }) => tacks)
        .find(({ id }) => next?.do === 'tack' && id === next.tack);
      return `${to.robot}${tack ? ` before a ${tack.phase} tack` : ''} to ${from.robot}`;
    });

const byWayOfPoints = ({ programs }: GeometricPlan): readonly string[] =>
  programs
    .filter(({ steps }) => steps.some((step) => step.do === 'move' && step.via === true))
    .map(({ robot }) => robot);

const entries = <T>(record: Readonly<Record<string, T>> | undefined): [string, T][] =>
  Object.entries(record ?? {});

function securing(
  plan: GeometricPlan,
  { part, tacks }: Stage,
  wanted: NonNullable<Planned['securing']>[string],
): string[] {
  const laid = tacks.filter(({ phase }) => phase === 'securing');
  const few =
    laid.length < wanted['at-least']
      ? [`${laid.length} securing tacks on ${part}; expected at least ${wanted['at-least']}`]
      : [];
  const side = wanted['each-side'];
  if (side === undefined) return few;
  const joints = plan.joints.filter(({ id }) => tacks.some(({ joint }) => joint === id));
  return [
    ...few,
    ...joints.flatMap(({ id, seams: [a, b] }) => {
      if (!a || !b || a.open[0] * b.open[0] + a.open[1] * b.open[1] > -0.1)
        return [`joint ${id} has no two seams that open to opposite sides`];
      const counts = [a, b].map((seam) => laid.filter((tack) => tack.seam === seam.id).length);
      return Math.min(...counts) < side
        ? [
            `securing tacks of ${part} on the two sides of ${id}: ${counts.join(', ')}; expected ${side} on each`,
          ]
        : [];
    }),
  ];
}

function gaping(
  { part, distortion: { openings } }: Stage,
  { least = 0, most = Infinity }: NonNullable<Planned['gaps']>[string],
): string[] {
  const widest = Math.max(0, ...openings.map(({ before }) => before));
  return widest < least || widest > most
    ? [`the widest gap before a tack of ${part} is ${widest} mm; expected ${least} to ${most}`]
    : [];
}

const holdsAtOnce = ({ stages }: GeometricPlan): number =>
  Math.max(...stages.map(({ held, alsoHeld: other }) => (held === null ? 0 : 1) + (other ? 1 : 0)));

const alsoHeld = ({ stages }: GeometricPlan): Readonly<Record<string, string>> =>
  Object.fromEntries(stages.flatMap(({ part, alsoHeld: other }) => (other ? [[part, other.part]] : [])));

/** The part that joins in the stage in which a part gets its first tack. */
function firstTacked({ joints, stages }: GeometricPlan, part: string): string | undefined {
  const own = joints.filter(({ between }) => between.includes(part)).map(({ id }) => id);
  return stages.find(({ tacks }) => tacks.some(({ joint }) => own.includes(joint)))?.part;
}

/** Seams with tacks of a stage that do not open toward a direction. */
function closedSeams(plan: GeometricPlan, { part, tacks }: Stage, way: Triple): string[] {
  const seams = plan.joints
    .flatMap((joint) => joint.seams)
    .filter(({ id }) => tacks.some(({ seam }) => seam === id));
  const away = seams.filter(({ open }) => open.reduce((sum, x, i) => sum + x * way[i]!, 0) < 0.1);
  return [
    ...(seams.length > 0 ? [] : [`${part} has no tacks`]),
    ...away.map(({ id, open }) => `seam ${id} of ${part} opens to ${open.join()}; expected ${way.join()}`),
  ];
}
