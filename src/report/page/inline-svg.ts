/** What of a picture is shown: lowest x and y, width and height, pixels of the picture. */
export type Crop = readonly [number, number, number, number];

/**
 * A picture of ours as it may stand inside a page with others: without its prolog, and with ids that begin with `prefix`,
 * letters, digits and dashes. Attributes alone are touched: in texts of a picture no bare quote can be.
 */
export function inlineSvg(svg: string, prefix: string, crop?: Crop): string {
  const own = svg
    .replace(/^<\?xml[^>]*\?>\s*/, '')
    .replace(/ id="([\w-]+)"/g, ` id="${prefix}-$1"`)
    .replace(/="url\(#([\w-]+)\)"/g, `="url(#${prefix}-$1)"`);
  return crop === undefined
    ? own
    : own.replace(/ viewBox="[^"]*" width="[^"]*" height="[^"]*"/, ` viewBox="${crop.join(' ')}"`);
}
