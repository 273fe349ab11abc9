export interface ImportFlags {
  readonly joints?: string;
  readonly name?: string;
  readonly out?: string;
  readonly force?: boolean;
}
