import type { PictureTheme } from "../exports/keyboard-picture.js";
import type { EditorTheme } from "./protocol.js";

/** What pictures are drawn for in a theme; a light ground with high contrast is as paper is. */
export const pictureThemes: Readonly<Record<EditorTheme, PictureTheme>> = {
  light: "light",
  dark: "dark",
  "high contrast": "high contrast",
  "high contrast light": "print",
};

/** A theme as a client told it; `undefined` for what is none. */
export const readTheme = (told: unknown): EditorTheme | undefined =>
  typeof told === "string" && Object.hasOwn(pictureThemes, told) ? (told as EditorTheme) : undefined;
