/** One breach of one rule by a plan. */
export interface Finding {
  /** Id of the rule. */
  readonly rule: string;
  /** Where in the plan, as `stages[2].tacks[1]`. */
  readonly where: string;
  /** What is broken, with the numbers. */
  readonly message: string;
  readonly value?: number;
  readonly limit?: number;
  /** A run of the programs that shows it, a line for each stretch of one robot's steps. */
  readonly trace?: readonly string[];
}
