/** An element that every page of this kind has. */
export const byId = (id: string): HTMLElement => document.getElementById(id) as HTMLElement;

/** For those who listen to the page: said once, and only what their own doing changed. */
export function say(words: string): void {
  byId("said").textContent = words;
}
