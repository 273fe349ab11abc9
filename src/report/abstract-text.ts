import type { AbstractWeldment } from '../model/weldment.js';
import { counted, listed } from './numbers.js';
import { plain } from './plain.js';

/** What a weldment without shapes says: parts with their ways, contacts, joints and order relations. */
export function abstractText(weldment: AbstractWeldment): string {
  const { parts, contacts, joints, blocking, needs, first } = weldment;
  const contactText =
    contacts === undefined ? 'any part may follow any other' : counted(contacts.length, 'contact');
  const lines = [
    `${plain(weldment.name)}: ${counted(parts.length, 'part')} without shapes, ${contactText}, ${counted(joints.length, 'joint')}`,
    '',
    ...parts.map(({ id, mass, ways }) => {
      const how = ways.map(
        ({ gripper, regrips, seconds }) =>
          `${gripper === '' ? 'any gripper' : plain(gripper)}, ${counted(regrips, 'regrip')}, ${seconds} s`,
      );
      return `  ${plain(id)}${mass === undefined ? '' : ` (${mass} kg)`}: ${how.join('; or ')}`;
    }),
    '',
    ...(contacts ?? []).map(([a, b]) => `  ${plain(a)} touches ${plain(b)}`),
    ...joints.map(({ between: [a, b], tacks }) => `  ${plain(a)} and ${plain(b)}: ${counted(tacks, 'tack')}`),
    ...blocking.map(
      ({ part, by }) => `  ${plain(part)} cannot come once ${listed(by.map(plain), 'or')} is in place`,
    ),
    ...needs.map(({ part, after }) => `  ${plain(part)} comes after ${listed(after.map(plain))}`),
    ...(first === undefined ? [] : [`  ${plain(first)} is wished first`]),
  ];
  return `${lines.join('\n')}\n`;
}
