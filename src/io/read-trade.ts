import { tradeFileSchema, type TradeFile } from '../model/trade-file.js';
import type { Reading } from './reading.js';
import { judgeBy, readBy } from './reading.js';

const judgeTrade = judgeBy(
  tradeFileSchema,
  () => [],
  (file): TradeFile['trade'] => file.trade,
);

/** Reads the trade out of what `plan --trade --json` printed. Whether its plans are legal is for the rules. */
export const readTrade = (text: string, file: string): Reading<TradeFile['trade']> =>
  readBy(text, file, judgeTrade);
