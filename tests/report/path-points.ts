/** The points of each run of a path of straight lines, as `pathOf` writes them; a closed run ends where it begins. */
export function pathPoints(d: string): [number, number][][] {
  const runs: [number, number][][] = [];
  for (const [, command, rest] of d.matchAll(/([MlLhvz])([^MlLhvz]*)/g)) {
    const [a = 0, b = 0] = (rest!.match(/-?(?:\d+\.?\d*|\.\d+)/g) ?? []).map(Number);
    const run = runs.at(-1);
    const [x, y] = run?.at(-1) ?? [0, 0];
    if (command === 'M') runs.push([[a, b]]);
    else if (command === 'z') run!.push([...run![0]!]);
    else if (command === 'L') run!.push([a, b]);
    else if (command === 'l') run!.push([x + a, y + b]);
    else if (command === 'h') run!.push([x + a, y]);
    else run!.push([x, y + a]);
  }
  return runs;
}
