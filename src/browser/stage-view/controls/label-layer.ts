import type { Rig } from '../camera/rig.js';
import type { PlacedLabel } from '../moment/labels.js';
import { make, write } from './element.js';

/** About the width of a letter and the height of a line, pixels: enough to see whether labels cover one another. */
const [LETTER, LINE] = [7.5, 20];

type Box = readonly [left: number, top: number, right: number, bottom: number];

const overlap = (a: Box, b: Box): boolean => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

/** Where a label may stand against its point, pixels right and down, the best first; a name only below what it names. */
const SHIFTS: Readonly<Record<PlacedLabel['kind'], readonly (readonly [number, number])[]>> = {
  newcomer: [[0, 0]],
  hold: [
    [0, 0],
    [0, -LINE - 2],
    [0, -2 * LINE],
    [0, LINE + 2],
  ],
  tack: [
    [0, 0],
    [LINE, 0],
    [-LINE, 0],
    [0, LINE],
    [0, -LINE],
    [2 * LINE, 0],
    [-2 * LINE, 0],
  ],
  name: [[0, 14]],
};

/** Texts over the picture. The moment in sentences says the same, so that they are hidden from screen readers. */
export class LabelLayer {
  readonly element = make('div', { class: 'labels', 'aria-hidden': 'true' });
  private readonly shown: HTMLElement[] = [];

  show(labels: readonly PlacedLabel[], rig: Rig, width: number, height: number): void {
    const taken: Box[] = [];
    labels.forEach((label, i) => {
      const element = this.elementAt(i);
      const [x, y] = rig.project(label.at);
      const inside = x >= 0 && x <= width && y >= 0 && y <= height;
      const wide = label.text.length * LETTER + 12;
      const boxes = SHIFTS[label.kind].map(([right, down]): Box => {
        const left = Math.min(Math.max(2, x + right - wide / 2), Math.max(2, width - wide - 2));
        return [left, y + down - LINE / 2, left + wide, y + down + LINE / 2];
      });
      const box = boxes.find((one) => !taken.some((other) => overlap(one, other)));
      element.hidden = !inside || !box;
      if (!inside || !box) return;
      taken.push(box);
      write(element, label.text);
      element.className = label.kind;
      const [middle, across] = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
      element.style.transform = `translate(${Math.round(middle)}px, ${Math.round(across)}px) translate(-50%, -50%)`;
    });
    for (const element of this.shown.slice(labels.length)) element.hidden = true;
  }

  private elementAt(i: number): HTMLElement {
    const own = this.shown[i];
    if (own) return own;
    const made = make('span');
    this.shown.push(made);
    this.element.append(made);
    return made;
  }
}
