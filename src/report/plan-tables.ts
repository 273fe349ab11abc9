import { rounded } from '../base/order.js';
import type { AbstractPlan, GeometricPlan, Plan } from '../model/plan.js';
import type { ObjectiveTerm } from '../model/settings.js';
import { csvTable, type CsvCell } from './csv.js';

/** A table and the file it goes to. */
export interface TableFile {
  readonly file: string;
  readonly text: string;
}

const tableFile = (
  name: string,
  heads: readonly string[],
  rows: readonly (readonly CsvCell[])[],
): TableFile => ({ file: `${name}.csv`, text: csvTable(heads, rows) });

/** Seconds and millimetres come as the plan has them; sums and differences to a thousandth. */
const thousandths = (value: number): number => rounded(value, 3);

function stages({ stages: all }: GeometricPlan): TableFile {
  const heads = [
    ...['stage', 'part', 'robot', 'gripper', 'regrips', 'held_by', 'also_held', 'stands', 'proof_pull_n'],
    ...['approach_x', 'approach_y', 'approach_z', 'tacks_securing', 'tacks_completing', 'tacks_by_hand'],
  ];
  return tableFile(
    'stages',
    heads,
    all.map(
      ({ number, part, robot, handling, held, alsoHeld, stands, proofPull, approach, tacks, manual }) => [
        ...[
          number,
          part,
          robot ?? 'a person',
          handling.at(-1)?.grip.gripper,
          Math.max(0, handling.length - 1),
        ],
        ...[held ?? undefined, alsoHeld?.part, stands, proofPull ?? undefined],
        ...(approach?.direction ?? [undefined, undefined, undefined]),
        tacks.filter(({ phase }) => phase === 'securing').length,
        tacks.filter(({ phase }) => phase === 'completing').length,
        manual?.tacks.length ?? 0,
      ],
    ),
  );
}

function tacks({ stages: all }: GeometricPlan): TableFile {
  const heads = [
    ...['stage', 'order', 'tack', 'robot', 'phase', 'joint', 'seam', 'start_mm', 'length_mm', 'leg_mm'],
    ...['position', 'strength_n'],
  ];
  const rows = all.flatMap(({ number, tacks: own, manual }) => [
    ...own.map((tack): CsvCell[] => [
      ...[number, tack.order, tack.id, tack.robot, tack.phase, tack.joint, tack.seam],
      ...[tack.start, tack.length, tack.leg, tack.position, tack.strength],
    ]),
    ...(manual?.tacks ?? []).map((tack): CsvCell[] => [
      ...[number, tack.order, tack.id, 'a person', 'by hand', tack.joint, tack.seam],
      ...[tack.start, tack.length, tack.leg, undefined, tack.strength],
    ]),
  ]);
  return tableFile('tacks', heads, rows);
}

const activities = ({ timeline }: GeometricPlan): TableFile =>
  tableFile(
    'activities',
    ['robot', 'stage', 'what', 'start_s', 'end_s', 'seconds', 'critical'],
    timeline.activities.map(({ robot, stage, what, start, end, critical }) => [
      ...[robot, stage, what, start, end, thousandths(end - start), critical ? 'yes' : 'no'],
    ]),
  );

function handshakes({ handshakes: all, programs }: GeometricPlan): TableFile {
  const step = ({ robot, step: n }: { readonly robot: string; readonly step: number }) =>
    programs.find((program) => program.robot === robot)?.steps.find((one) => one.n === n);
  const heads = [
    ...['signal', 'name', 'kind', 'from_robot', 'from_step', 'given_s', 'to_robot', 'to_step'],
    ...['goes_on_s', 'waited_s', 'time_limit_s', 'waiting', 'meaning', 'guards'],
  ];
  return tableFile(
    'handshakes',
    heads,
    all.map(({ id, name, kind, from, to, timeLimit, waiting, meaning, guards }) => {
      const [signal, wait] = [step(from), step(to)];
      return [
        ...[id, name, kind, from.robot, from.step, signal?.end, to.robot, to.step],
        ...[wait?.end, wait && thousandths(wait.end - wait.start), timeLimit, waiting, meaning, guards],
      ];
    }),
  );
}

function reserves({ stages: all }: GeometricPlan): TableFile {
  const rows = all.flatMap(({ number, part, reserves: own, handling }) => [
    ...own.map(({ state, case: load, reserve, required, weakest }): CsvCell[] => [
      ...[number, part, state, load, reserve, required, weakest],
    ]),
    ...handling.map(({ carried }): CsvCell[] => [
      ...[number, part, 'carried', carried.case, carried.reserve, carried.required, ''],
    ]),
  ]);
  return tableFile('reserves', ['stage', 'part', 'state', 'case', 'reserve', 'required', 'weakest'], rows);
}

const features = ({ distortion }: GeometricPlan): TableFile =>
  tableFile(
    'distortion',
    [
      ...['tolerance', 'from', 'to', 'class', 'nominal_mm', 'deviation_mm'],
      ...['limit_mm', 'tolerance_mm', 'within'],
    ],
    distortion.features.map(({ name, from, to, class: of, nominal, deviation, limit, tolerance, within }) => [
      ...[name, from, to, of, nominal, deviation, limit, tolerance, within ? 'yes' : 'no'],
    ]),
  );

const openings = ({ stages: all }: GeometricPlan): TableFile =>
  tableFile(
    'openings',
    ['stage', 'tack', 'opening_mm'],
    all.flatMap(({ number, distortion }) =>
      distortion.openings.map(({ tack, before }) => [number, tack, before]),
    ),
  );

/** Terms that are no counts, with the unit of their values; a spreadsheet shows nothing else that would tell. */
const UNITS: Partial<Record<ObjectiveTerm, string>> = { time: '0.1 s', distortion: '0.1 mm' };

/** Values as the plan states them, with their units. */
const objective = ({ objective: terms, proof }: Plan): TableFile =>
  tableFile(
    'objective',
    ['term', 'value', 'bound', 'proved', 'unit'],
    terms.map(({ term, value, bound }) => [
      ...[term, value, bound, proof.provedTerms.includes(term) ? 'yes' : 'no', UNITS[term] ?? ''],
    ]),
  );

const abstractStages = ({ stages: all }: AbstractPlan): TableFile =>
  tableFile(
    'stages',
    ['stage', 'part', 'gripper', 'regrips', 'tacks', 'seconds'],
    all.map(({ number, part, gripper, regrips, tacks: count, seconds }) => [
      ...[number, part, gripper ?? undefined, regrips, count, seconds],
    ]),
  );

/** Everything of a plan that a spreadsheet is good for, a table a file. */
export const planTables = (plan: Plan): readonly TableFile[] =>
  plan.kind === 'abstract'
    ? [abstractStages(plan), objective(plan)]
    : [stages, tacks, activities, handshakes, reserves, features, openings, objective].map((table) =>
        table(plan),
      );
