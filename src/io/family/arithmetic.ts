/** How near to each other two numbers are the same, of the greater of them and 1: what sums of decimal fractions are off by. */
const SAME = 1e-9;

export const nearlyEqual = (a: number, b: number): boolean =>
  Math.abs(a - b) <= SAME * Math.max(1, Math.abs(a), Math.abs(b));

/** How far off a whole number a number may be at most, however large, and be meant to be it. */
const NEXT = 1e-6;

/** The whole number that a number is meant to be, or the number itself. */
function snapped(x: number): number {
  const whole = Math.round(x);
  return nearlyEqual(x, whole) && Math.abs(x - whole) < NEXT ? whole : x;
}

/** A number as it is written into a weldment: to a thousand-millionth, which no workshop sees and no text is long by. */
export const tidy = (x: number): number => (Math.abs(x) < 1e6 ? Math.round(x * 1e9) / 1e9 + 0 : x);

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const degrees = (angle: number): number => (angle * 180) / Math.PI;

/** Half away from zero, as trade tables round. */
const rounded = (x: number): number => Math.sign(x) * Math.round(Math.abs(snapped(x * 2) / 2));

interface Arithmetic {
  /** How many values it takes. */
  readonly least: number;
  readonly most: number;
  readonly value: (...of: readonly number[]) => number;
}

const one = (value: (x: number) => number): Arithmetic => ({
  least: 1,
  most: 1,
  value: (x) => value(x!),
});

const two = (value: (x: number, y: number) => number): Arithmetic => ({
  least: 2,
  most: 2,
  value: (x, y) => value(x!, y!),
});

const any = (value: (...of: readonly number[]) => number): Arithmetic => ({
  least: 1,
  most: Infinity,
  value,
});

/** Functions that expressions may call; angles in degrees. */
export const FUNCTIONS: Readonly<Record<string, Arithmetic>> = {
  min: any(Math.min),
  max: any(Math.max),
  abs: one(Math.abs),
  floor: one((x) => Math.floor(snapped(x))),
  ceil: one((x) => Math.ceil(snapped(x))),
  round: one(rounded),
  sqrt: one(Math.sqrt),
  sin: one((x) => Math.sin(radians(x))),
  cos: one((x) => Math.cos(radians(x))),
  tan: one((x) => Math.tan(radians(x))),
  asin: one((x) => degrees(Math.asin(x))),
  acos: one((x) => degrees(Math.acos(x))),
  atan: one((x) => degrees(Math.atan(x))),
  atan2: two((y, x) => degrees(Math.atan2(y, x))),
};

/** The remainder that has the sign of the divisor, so that it counts round whatever the number. */
const remainder = (x: number, y: number): number => snapped(x - y * Math.floor(snapped(x / y)));

/** Operators between numbers, by their names in the tree, with their signs. `and`, `or`, `not` are no arithmetic. */
export const OPERATORS: Readonly<
  Record<string, { readonly sign: string; readonly value?: (x: number, y: number) => number }>
> = {
  add: { sign: '+', value: (x, y) => x + y },
  subtract: { sign: '-', value: (x, y) => x - y },
  multiply: { sign: '*', value: (x, y) => x * y },
  divide: { sign: '/', value: (x, y) => x / y },
  pow: { sign: '^', value: (x, y) => x ** y },
  mod: { sign: '%', value: remainder },
  unaryMinus: { sign: '-', value: (x) => -x },
  unaryPlus: { sign: '+', value: (x) => x },
  and: { sign: 'and' },
  or: { sign: 'or' },
  not: { sign: 'not' },
};

/** Comparisons of numbers, by their names in the tree; those that may also compare texts or yes and no say so. */
export const COMPARISONS: Readonly<
  Record<
    string,
    { readonly sign: string; readonly any: boolean; readonly holds: (x: number, y: number) => boolean }
  >
> = {
  equal: { sign: '==', any: true, holds: nearlyEqual },
  unequal: { sign: '!=', any: true, holds: (x, y) => !nearlyEqual(x, y) },
  smaller: { sign: '<', any: false, holds: (x, y) => x < y && !nearlyEqual(x, y) },
  smallerEq: { sign: '<=', any: false, holds: (x, y) => x < y || nearlyEqual(x, y) },
  larger: { sign: '>', any: false, holds: (x, y) => x > y && !nearlyEqual(x, y) },
  largerEq: { sign: '>=', any: false, holds: (x, y) => x > y || nearlyEqual(x, y) },
};
