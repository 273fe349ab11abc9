import { negate, subtract } from '../geometry/vector.js';
import { shapeSolid } from '../model/part-geometry.js';
import type { Shape } from '../model/shape.js';
import { sideText } from './direction-text.js';
import type {
  ApproachView,
  ContactView,
  Inspection,
  JointMissView,
  JointView,
  PartView,
} from './inspection.js';
import { inspectCellText } from './inspect-cell-text.js';
import { amount, counted, listed } from './numbers.js';
import { plain } from './plain.js';
import { reachText } from './reach-text.js';
import { textTable } from './text-table.js';

const KINDS: Readonly<Record<Shape['kind'], string>> = {
  plate: 'plate',
  'cut-plate': 'plate',
  block: 'block',
  'rectangular-hollow-section': 'hollow',
  'round-hollow-section': 'tube',
  angle: 'angle',
  channel: 'channel',
  'i-section': 'i-section',
  'flat-bar': 'flat',
  'round-bar': 'round',
  'square-bar': 'square',
  prism: 'prism',
  group: 'group',
};

/** The numbers of a shape: main sizes, the walls, and how many corners and holes. */
function sizesOf(shape: Shape): { readonly sizes: readonly number[]; readonly more: string } {
  switch (shape.kind) {
    case 'round-bar':
      return { sizes: [shape.length, shape.diameter], more: ' diameter' };
    case 'round-hollow-section':
      return { sizes: [shape.length, shape.diameter], more: ` diameter, wall ${amount(shape.wall, 3)}` };
    case 'rectangular-hollow-section':
      return { sizes: boxSizes(shape), more: ` wall ${amount(shape.wall, 3)}` };
    case 'angle':
      return { sizes: boxSizes(shape), more: `, ${amount(shape.thickness, 3)} thick` };
    case 'channel':
    case 'i-section':
      return {
        sizes: boxSizes(shape),
        more: `, web ${amount(shape.web, 3)}, flange ${amount(shape.flange, 3)}`,
      };
    case 'cut-plate':
      return {
        sizes: [...spans(shape.outline), shape.thickness],
        more: shape.holes.length === 0 ? '' : `, ${counted(shape.holes.length, 'hole')}`,
      };
    case 'prism':
      return { sizes: [shape.length, ...spans(shape.outline)], more: `, ${shape.outline.length} sides` };
    case 'group': {
      const { low, high } = shapeSolid(shape).bounds;
      return { sizes: subtract(high, low), more: ` of ${counted(shape.members.length, 'part')}` };
    }
    default:
      return { sizes: boxSizes(shape), more: '' };
  }
}

const boxSizes = (box: {
  readonly length: number;
  readonly width: number;
  readonly height: number;
}): number[] => [box.length, box.width, box.height];

const spans = (outline: readonly (readonly [number, number])[]): number[] =>
  ([0, 1] as const).map((axis) => {
    const along = outline.map((corner) => corner[axis]);
    return Math.max(...along) - Math.min(...along);
  });

/** Kind and sizes of a shape: `plate 320 x 220 x 10`. */
export function shapeText(shape: Shape): string {
  const { sizes, more } = sizesOf(shape);
  return `${KINDS[shape.kind]} ${sizes.map((size) => amount(size, 3)).join(' x ')}${more}`;
}

const pair = ([a, b]: readonly [string, string]): string => `${plain(a)}, ${plain(b)}`;

function partLines(parts: readonly PartView[]): string[] {
  const rows = parts.map(({ id, shape, mass, massFrom, centre, material }) => [
    plain(id),
    shapeText(shape),
    `${amount(mass, 3)} ${massFrom}`,
    centre.map((x) => amount(x, 1)).join(', '),
    plain(material),
  ]);
  const heads = [
    { title: 'part', most: 24 },
    { title: 'shape', most: 30 },
    { title: 'mass, kg', most: 18 },
    { title: 'centre of mass', most: 24 },
    { title: 'material', most: 10 },
  ];
  return textTable(heads, rows, '  ');
}

function contactLines(contacts: readonly ContactView[]): string[] {
  const rows = contacts.map(({ between, patches, area, gap, bearings }) => [
    pair(between),
    amount(patches.length),
    amount(area, 1),
    amount(gap, 3),
    bearings > 0 ? `bears on ${counted(bearings, 'patch', 'patches')}` : 'only adjacent: carries no force',
  ]);
  const heads = [
    { title: 'between', most: 42 },
    { title: 'patches', most: 7, side: 'right' },
    { title: 'area, mm2', most: 11, side: 'right' },
    { title: 'gap, mm', most: 8, side: 'right' },
    { title: 'bearing', most: 20 },
  ] as const;
  return textTable(heads, rows, '  ');
}

function jointLines(joints: readonly JointView[]): string[] {
  const rows = joints.map(({ id, between, type, leg, origin, seams }) => [
    plain(id),
    pair(between),
    type,
    amount(leg, 2),
    origin,
    seams.length === 0
      ? 'none'
      : seams.map(({ length, open }) => `${amount(length, 1)} to ${sideText(open)}`).join('; '),
  ]);
  const heads = [
    { title: 'joint', most: 6 },
    { title: 'between', most: 32 },
    { title: 'type', most: 6 },
    { title: 'leg', most: 5, side: 'right' },
    { title: 'origin', most: 8 },
    { title: 'seams: length in mm, open side', most: 24 },
  ] as const;
  return textTable(heads, rows, '  ');
}

const missLine = ({ joint, between, why }: JointMissView): string =>
  `  ! ${plain(joint)}, ${pair(between)}: ${
    why === 'no-contact' ? 'the parts do not meet' : 'the contact offers no seam of this type and side'
  }`;

/** What is in the way of an approach. */
export function blockedText({ hits, squeezes, fixed }: ApproachView): string {
  const reasons = [
    fixed === null ? '' : `always, by ${fixed === 'table' ? 'the table' : 'a keep-out'}`,
    hits.length > 0 ? `by ${listed(hits.map(plain), 'or')}` : '',
    ...squeezes.map(([a, b]) => `between ${plain(a)} and ${plain(b)} (too little room to slide in)`),
  ].filter((reason) => reason !== '');
  return reasons.length === 0 ? 'by nothing' : reasons.join('; ');
}

const byHandText = ({ seconds, within }: NonNullable<PartView['manual']>): string =>
  `set by hand in ${amount(seconds)} s, to within ${amount(within, 3)} mm; only \`blocking\` and \`needs\` count`;

function approachLines(parts: readonly PartView[]): string[] {
  const rows = parts.flatMap(({ id, manual, approaches }) => [
    ...(manual ? [[plain(id), 'wherever a person can', byHandText(manual)]] : []),
    ...approaches.map((approach, i) => [
      i === 0 ? plain(id) : '',
      sideText(negate(approach.direction)),
      blockedText(approach),
    ]),
  ]);
  const heads = [
    { title: 'part', most: 24 },
    { title: 'comes from', most: 20 },
    { title: 'blocked', most: 50 },
  ];
  return textTable(heads, rows, '  ');
}

const section = (title: string, lines: readonly string[]): string[] => ['', `${title}:`, ...lines];

function headLine({ weldment, cell, parts, contacts, joints }: Inspection): string {
  const mass = parts.reduce((sum, part) => sum + part.mass, 0);
  const given = joints.filter(({ origin }) => origin === 'given').length;
  const seams = joints.reduce((sum, joint) => sum + joint.seams.length, 0);
  const on = cell ? ` on ${plain(cell.name)}` : '';
  return `${plain(weldment)}${on}: ${counted(parts.length, 'part')} of ${amount(mass, 2)} kg, ${counted(
    contacts.length,
    'contact',
  )}, ${counted(joints.length, 'joint')} (${given} given, ${joints.length - given} proposed), ${counted(seams, 'seam')}`;
}

/**
 * The text of an inspection: parts, contacts, joints, what blocks each approach, what the cell makes of it, and, where
 * it was asked for, reach and advice on the cell.
 */
export function inspectText(inspection: Inspection): string {
  const { parts, contacts, joints, jointMisses, cell, reach } = inspection;
  const lines = [
    headLine(inspection),
    ...section('Parts (weldment frame, mm)', partLines(parts)),
    ...section('Contacts', contacts.length > 0 ? contactLines(contacts) : ['  none']),
    ...section('Joints', joints.length > 0 ? jointLines(joints) : ['  none']),
    ...jointMisses.map(missLine),
    ...section('Approaches', approachLines(parts)),
    ...(cell ? inspectCellText(cell) : []),
    ...(cell && reach ? reachText(cell.name, reach) : []),
  ];
  return `${lines.join('\n')}\n`;
}
