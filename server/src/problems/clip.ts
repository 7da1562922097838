/** A text as it is quoted in a message: at most 40 characters of it. */
export function clip(text: string): string {
  const characters = [...text.slice(0, 90)];
  return characters.length <= 40 ? text : `${characters.slice(0, 39).join("")}…`;
}
