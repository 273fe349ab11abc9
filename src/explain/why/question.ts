/** What is asked about a choice of a plan. */
export type Question =
  /** Why `first` joins before `second`. */
  | { readonly ask: 'before'; readonly first: string; readonly second: string }
  /** Why a part has the last grip that it has. */
  | { readonly ask: 'grip'; readonly part: string }
  /** Why a part is regripped, or as often. */
  | { readonly ask: 'regrip'; readonly part: string }
  /** Why a tack is where it is. */
  | { readonly ask: 'tack'; readonly tack: string }
  /** Why the part of a stage is held while its securing tacks are laid; a stage by its number or by its part. */
  | { readonly ask: 'hold'; readonly stage: string }
  /** Why a part is not the first. */
  | { readonly ask: 'not-first'; readonly part: string };
