/** Shows the middle of a drawing that is wider than its box, where the first part stands. */
export function centreGraphs(page: Document): void {
  for (const box of page.querySelectorAll('.graph-box'))
    box.scrollLeft = (box.scrollWidth - box.clientWidth) / 2;
}
