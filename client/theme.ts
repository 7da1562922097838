import { ColorThemeKind, type Disposable, window } from "vscode";
import type { ClientNotifications, EditorTheme } from "../server/src/lsp/protocol.js";
import type { Session } from "./session.js";

const names: Readonly<Record<ColorThemeKind, EditorTheme>> = {
  [ColorThemeKind.Light]: "light",
  [ColorThemeKind.Dark]: "dark",
  [ColorThemeKind.HighContrast]: "high contrast",
  [ColorThemeKind.HighContrastLight]: "high contrast light",
};

/** What the editor's colour theme is like. */
export const themeNow = (): EditorTheme => names[window.activeColorTheme.kind] ?? "dark";

/** Tells the language server whenever the theme becomes another. */
export const tellTheme = ({ client }: Session): Disposable =>
  window.onDidChangeActiveColorTheme(() => {
    const params: ClientNotifications["plagal/theme"] = { theme: themeNow() };
    // While the server is away there is nobody to tell: its next start asks.
    client.sendNotification("plagal/theme", params).catch(() => undefined);
  });
