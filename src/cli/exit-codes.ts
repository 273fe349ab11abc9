/** Every way a command can end. */
export const EXIT = {
  done: 0,
  usage: 2,
  badInput: 10,
  impossible: 20,
  noneFound: 21,
  allFailed: 22,
  ruleBroken: 30,
  defect: 70,
  interrupted: 130,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
