import { EXIT, type ExitCode } from './exit-codes.js';

export interface FamilyFlags {
  readonly cell?: string;
  readonly settings?: string;
  readonly out?: string;
  readonly threads?: number;
  readonly samples?: number;
  readonly seed?: number;
  readonly steps?: number;
  readonly json?: boolean;
}

/** `tackwright family`. */
export function familyCommand(family: string, flags: FamilyFlags): Promise<ExitCode> {
  process.stderr.write(`${family}: not planned yet${flags.out === undefined ? '' : ', nothing written'}\n`);
  return Promise.resolve(EXIT.usage);
}
