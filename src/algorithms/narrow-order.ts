/**
 * An order of the nodes of an undirected graph in which neighbours stand near each other, so that a symmetric matrix
 * with an entry for each edge has its entries near the diagonal: reverse Cuthill-McKee. From the node with the fewest
 * neighbours of each connected piece outwards, fewest neighbours first, lowest number first, and the whole turned
 * round. Takes, for each node, the numbers of its neighbours in rising order.
 */
export function narrowOrder(neighbours: readonly (readonly number[])[]): number[] {
  const byDegree = (a: number, b: number): number => neighbours[a]!.length - neighbours[b]!.length || a - b;
  const seen = new Set<number>();
  const order: number[] = [];
  const visit = (node: number): void => {
    seen.add(node);
    order.push(node);
  };
  for (const start of [...neighbours.keys()].sort(byDegree)) {
    if (seen.has(start)) continue;
    let next = order.length;
    visit(start);
    for (; next < order.length; next += 1)
      neighbours[order[next]!]!.filter((node) => !seen.has(node))
        .sort(byDegree)
        .forEach(visit);
  }
  return order.reverse();
}
