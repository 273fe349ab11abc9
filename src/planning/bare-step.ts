import type { Step } from '../model/plan.js';

/** What follows from the stages and the cell once the order is known: filled in by `filledPrograms`. */
interface Filled {
  move: 'tool' | 'pose' | 'branch' | 'speed' | 'acceleration';
  grip: 'action' | 'confirm';
  'set-down': 'action';
  'let-go': 'action';
  seat: 'travel' | 'confirm';
  tack: 'to' | 'tool' | 'frame' | 'from' | 'pose' | 'length' | 'leg' | 'position' | 'arc';
}

type Times = 'n' | 'start' | 'end';
type Marks = 'resume';
type FilledIn<K> = K extends keyof Filled ? Filled[K] : never;

type Plain = Exclude<Step['do'], 'accept'>;
type Accept = Omit<Extract<Step, { do: 'accept' }>, 'rework' | Marks> & {
  readonly rework: readonly TimedStep[];
};

/** A step of a program that is not numbered, timed or filled in. */
export type BareStep =
  { [K in Plain]: Omit<Extract<Step, { do: K }>, Times | Marks | FilledIn<K>> }[Plain] | Omit<Accept, Times>;

/** A step that has its number and its time, but is not filled in. */
export type TimedStep = { [K in Plain]: Omit<Extract<Step, { do: K }>, Marks | FilledIn<K>> }[Plain] | Accept;
