import { z } from 'zod';

/** Kinds of arc processes that a cell may have. */
export const cellArcSchema = z.enum(['mag', 'mig', 'fcaw', 'tig', 'plasma', 'mma']);
