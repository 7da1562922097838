/** Red, green and blue, 0 to 1, of `#rrggbb` or of a colour as a browser computes it. */
const channels = (colour: string): readonly number[] =>
  colour.startsWith("#")
    ? [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255)
    : (colour.match(/[\d.]+/g) ?? []).slice(0, 3).map((it) => Number(it) / 255);

/** W3C WCAG 2.1, relative luminance. */
export function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = channels(colour).map((it) =>
    it <= 0.03928 ? it / 12.92 : ((it + 0.055) / 1.055) ** 2.4,
  );
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** W3C WCAG 2.1, contrast ratio. */
export function contrast(one: string, other: string): number {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b) as [number, number];
  return (high + 0.05) / (low + 0.05);
}
