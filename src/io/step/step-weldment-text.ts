import { Document, isMap, isPair, isScalar, isSeq } from 'yaml';
import { UNITS } from '../../model/scalars.js';
import type { RecognisedPart } from './recognised.js';
import { MATERIAL } from './recognise.js';
import type { ImportedSolid } from './step-parts.js';

/** A joint as it is proposed, and what is told of it. */
export interface ProposedJoint {
  readonly between: readonly [string, string];
  readonly type: string;
  readonly leg: number;
  readonly sides: 'both';
  readonly about: string;
}

/**
 * A weldment file, to be looked through, of what was recognised in a STEP file: a line for each part and joint, with what was
 * seen in comments above it. Solids that are no part of it are told of at the end of the parts.
 *
 * @param from name of the STEP file
 * @param joints undefined: the file leaves them out, so that they are proposed each time it is read
 */
export function stepWeldmentText(
  name: string,
  from: string,
  solids: readonly ImportedSolid[],
  joints?: readonly ProposedJoint[],
): string {
  const parts = solids.flatMap(({ name: part, solid }) =>
    solid.kind === 'part' ? [[part, partEntry(solid)] as const] : [],
  );
  const file = {
    weldment: name,
    units: UNITS,
    material: MATERIAL,
    parts: Object.fromEntries(parts),
    ...(joints && {
      joints: joints.map(({ between: [a, b], type, leg, sides }) => ({ between: [a, b], type, leg, sides })),
    }),
  };
  const document = new Document(file, { aliasDuplicateObjects: false });
  document.commentBefore = comment(headLines(from, joints !== undefined));
  commentParts(document.get('parts'), solids);
  commentJoints(document.get('joints'), joints ?? []);
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}

const partEntry = ({ key, sizes, at, turn, mass }: RecognisedPart): object => ({
  [key]: sizes,
  at: [...at],
  ...(turn.some((angle) => angle !== 0) && { turn: [...turn] }),
  ...(mass !== undefined && { mass }),
});

const headLines = (from: string, joints: boolean): readonly string[] => [
  `Made of the solids of ${from}. Look it through before planning:`,
  `- every part is taken for ${MATERIAL}: a STEP file tells no material that is understood here;`,
  '- coordinates are those of the STEP file: z is taken for up, and the lowest part should stand on the table at z 0;',
  '- a plate and a flat bar look alike: each is a plate, which counts as cut all around;',
  ...(joints
    ? ['- joints are proposed wherever parts meet, with legs by common practice: strike and correct.']
    : []),
];

/** Names come from an untrusted file and are clean of line ends, or a comment would end within one. */
const comment = (lines: readonly string[]): string =>
  lines.map((line) => ` ${line.replace(/[\r\n\u2028\u2029]+/g, ' ')}`).join('\n');

function commentParts(parts: unknown, solids: readonly ImportedSolid[]): void {
  if (!isMap(parts)) return;
  let lost: string[] = [];
  const known = [...parts.items];
  for (const { name, within, solid } of solids) {
    const place = within.length > 0 ? [`in ${within.join(' / ')}`] : [];
    if (solid.kind === 'unknown') {
      lost = [...lost, `NOT TAKEN: ${name}${place.length > 0 ? ` (${place[0]!})` : ''}: ${solid.seen}`];
      continue;
    }
    const item = known.shift();
    if (item === undefined || !isPair(item) || !isScalar(item.key)) return;
    const lines = [...lost, ...place, ...solid.notes];
    if (lines.length > 0) item.key.commentBefore = comment(lines);
    if (isMap(item.value)) item.value.flow = true;
    lost = [];
  }
  if (lost.length > 0) parts.comment = comment(lost);
}

function commentJoints(list: unknown, joints: readonly ProposedJoint[]): void {
  if (!isSeq(list)) return;
  list.items.forEach((item, i) => {
    if (!isMap(item)) return;
    item.flow = true;
    item.comment = comment([joints[i]!.about]);
  });
}
