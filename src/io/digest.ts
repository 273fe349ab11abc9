import { createHash } from 'node:crypto';
import { canonicalText } from './canonical.js';

/** SHA-256 of the canonical text of a plain value, as 64 hexadecimal digits. */
export const digest = (value: unknown): string =>
  createHash('sha256').update(canonicalText(value), 'utf8').digest('hex');
