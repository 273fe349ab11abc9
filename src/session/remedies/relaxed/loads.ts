import { numberLadder } from '../number-ladder.js';
import type { Settings } from '../../../model/settings.js';
import type { Ladder } from '../ladder.js';
import { missesOf, type Trouble } from '../trouble.js';

type Load = keyof Settings['loads'];

/** Shares of a load that are tried; less would leave it out rather than lower it (our choice). */
const SHARES = [0.9, 0.8, 0.7, 0.6, 0.5];

/** What a load is called in a refusal, which number of the settings makes it, and what a lower one asks of people. */
const LOADS: readonly (readonly [says: RegExp, key: Load, unit: string, asks: string])[] = [
  [/^push/, 'push-least', 'N', 'nothing may brush past a part that is not tacked harder than this'],
  [/^torch touch/, 'torch-touch', 'N', 'the torch must be shown to touch no harder'],
  [/^frozen wire/, 'wire-pull', 'N', 'the arm must stop by itself at this pull of a frozen wire'],
  [/^seating push/, 'seating-push', 'N', 'the arm must be limited to this force when it seats a part'],
  [/^sliding drag/, 'sliding-drag', 'N', 'parts must be clean enough to slide in with no more'],
  [/^proof pull/, 'proof-pull', 'N', 'a weaker pull shows fewer bad tacks'],
  [/^transport/, 'transport-acceleration', 'm/s2', 'the arm must be driven so gently'],
  [
    /^emergency stop/,
    'stop-acceleration',
    'm/s2',
    'the arm must be slowed so that an emergency stop asks for no more',
  ],
  [/^lift-out/, 'lift-acceleration', 'm/s2', 'the hoist must start so gently'],
];

/** A load that is reckoned with, lowered to half of it at the least. */
export const lowerLoad = (trouble: Trouble): readonly Ladder[] =>
  LOADS.flatMap(([says, key, unit, asks]) => {
    const meant = missesOf(trouble).some(({ subjects }) => subjects.some((one) => says.test(one)));
    const from = trouble.settings.loads[key];
    if (!meant || from === 0) return [];
    return numberLadder({
      ...{ kind: 'lower-load', cost: 'relaxed-rule', file: 'settings', path: ['loads', key], from },
      values: SHARES.map((share) => from * share),
      monotone: true,
      words: (to) => `reckon with \`${key}\` ${to} ${unit} instead of ${from}`,
      caution: () => `relaxes a rule that keeps parts from falling: ${asks}`,
    });
  });
