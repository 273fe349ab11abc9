/** What a code of an issue, a refusal, a reason or a finding means, in words that fit every place it is given at. */
export interface CodeWords {
  /** What it is called, without subject or number: `wrist stretched`. */
  readonly title: string;
  /** What is wrong, in one or two sentences. */
  readonly meaning: string;
  /** What to do about it. */
  readonly remedy: string;
  /** What the number of a refusal measures; empty where it has none or its title says it. */
  readonly measure?: string;
}

/** Codes of one area with their words; `N` in a code stands for the number of a joint of an arm. */
export type CodeTable = Readonly<Record<string, CodeWords>>;
