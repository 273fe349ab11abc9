import type { Row } from '../../src/study/row.js';

/** A row of a study with what a test says of it. */
export const someRow = (more: Partial<Row> = {}): Row => ({
  instance: 'one',
  digest: 'd1',
  kind: 'sop',
  parts: 9,
  solver: 'beam',
  solverDigest: '',
  seed: 1,
  limits: { seconds: undefined, steps: 100, megabytes: 64 },
  outcome: 'optimal',
  terms: ['cost'],
  best: [50],
  bound: [50],
  provedTerms: 1,
  steps: 10,
  firstSeconds: 0.25,
  bestSeconds: 0.5,
  proofSeconds: 1,
  totalSeconds: 1,
  dropped: 0,
  note: '',
  ...more,
});

/** A row that proves nothing. */
export const openRow = (more: Partial<Row> = {}): Row =>
  someRow({ outcome: 'feasible', bound: [40], provedTerms: 0, proofSeconds: undefined, ...more });
