const most = 80;

/** A text of the chart as it is quoted to the player: at most 80 characters of it. */
export function clipped(text: string): string {
  const characters = [...text.slice(0, 2 * most + 2)];
  return characters.length <= most ? text : `${characters.slice(0, most - 1).join("")}…`;
}
