import { DOMParser, type Element } from '@xmldom/xmldom';

/** A drawing read back: elements with where they are, in pixels. */
export interface DrawnMark {
  readonly name: string;
  readonly element: Element;
  /** Of its own points, with the shifts of all that it is in. */
  readonly points: readonly (readonly [number, number])[];
}

/** Reads XML strictly: anything that a parser would have to mend is an error. */
export function readSvg(text: string): Element {
  const parser = new DOMParser({
    onError: (level, message) => {
      throw new Error(`${level}: ${message}`);
    },
  });
  return parser.parseFromString(text, 'text/xml').documentElement!;
}

const childrenOf = (element: Element): Element[] =>
  Array.from(element.childNodes).filter((node): node is Element => node.nodeType === 1);

/** All elements of a name below one, that one included. */
export const allNamed = (element: Element, name: string): Element[] => [
  ...(element.nodeName === name ? [element] : []),
  ...childrenOf(element).flatMap((child) => allNamed(child, name)),
];

/** A length, that in percent of the box around it; all of the whole picture counts as nothing. */
function number(element: Element, name: string): number {
  const stated = element.getAttribute(name) ?? '0';
  if (!stated.endsWith('%')) return Number(stated);
  const around = element.parentNode as Element;
  const size = name.startsWith('x') ? 'width' : name.startsWith('y') ? 'height' : name;
  const whole = around.parentNode?.nodeType === 1 ? number(around, size) : 0;
  return (Number.parseFloat(stated) / 100) * whole;
}

function pointsOf(element: Element): (readonly [number, number])[] {
  const at = (x: string, y: string): [number, number] => [number(element, x), number(element, y)];
  switch (element.nodeName) {
    case 'rect': {
      const [x, y] = at('x', 'y');
      return [
        [x, y],
        [x + number(element, 'width'), y + number(element, 'height')],
      ];
    }
    case 'line':
      return [at('x1', 'y1'), at('x2', 'y2')];
    case 'text':
      return [at('x', 'y')];
    case 'circle': {
      const [x, y] = at('cx', 'cy');
      const r = number(element, 'r');
      return [
        [x - r, y - r],
        [x + r, y + r],
      ];
    }
    default:
      return [];
  }
}

/** Every mark of a drawing with its place; patterns and what lies in them are left out. */
export function marksOf(element: Element, [dx, dy]: readonly [number, number] = [0, 0]): DrawnMark[] {
  if (element.nodeName === 'defs') return [];
  const moved = /translate\(([-\d.]+) ([-\d.]+)\)/.exec(element.getAttribute('transform') ?? '');
  const inner = element.nodeName === 'svg' && element.parentNode?.nodeType === 1;
  const shift = [
    dx + Number(moved?.[1] ?? 0) + (inner ? number(element, 'x') : 0),
    dy + Number(moved?.[2] ?? 0) + (inner ? number(element, 'y') : 0),
  ] as const;
  const points = pointsOf(element).map(([x, y]) => [x + shift[0], y + shift[1]] as const);
  const own = points.length === 0 ? [] : [{ name: element.nodeName, element, points }];
  return [...own, ...childrenOf(element).flatMap((child) => marksOf(child, shift))];
}
