import { ruleCatalogue } from '../report/rule-catalogue.js';
import type { ExitCode } from './exit-codes.js';
import { putOut } from './put-out.js';

/** `tackwright rules`: the catalogue of the rules that `check` judges by. */
export const rulesCommand = (out: string | undefined): ExitCode => putOut(ruleCatalogue(), out);
