import {
  type Settings as DocumentSettings,
  defaultSettings as documentDefaults,
} from "../document/document.js";
import type { Severity } from "../problems/entry.js";

/** What the user may set, under `plagal` in the editor's settings. The defaults stand here and in the manifest. */
export interface ServerSettings {
  readonly document: DocumentSettings;
  readonly hoverScales: boolean;
  readonly hoverPicture: boolean;
  readonly hintNotes: boolean;
  readonly hintLetters: boolean;
  readonly hintFingering: boolean;
  /** Entries of an outline or a search at most. */
  readonly mostSymbols: number;
}

export const defaultServerSettings: ServerSettings = {
  document: documentDefaults,
  hoverScales: true,
  hoverPicture: true,
  hintNotes: false,
  hintLetters: false,
  hintFingering: false,
  mostSymbols: 5000,
};

const severities: ReadonlySet<unknown> = new Set<Severity>(["error", "warning", "info", "hint", "off"]);
/** White keys; the same bounds as `plagal check --reach`. */
const [leastReach, mostReach] = [5, 15];

type Record_ = Readonly<Record<string, unknown>>;
const recordOf = (value: unknown): Record_ =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Record_) : {};

const reachOf = (value: unknown): number | undefined =>
  typeof value === "number" && Number.isInteger(value) && value >= leastReach && value <= mostReach
    ? value
    : undefined;

/**
 * The settings in the section `plagal`, whatever came: `null`, half of them, or nonsense. What can't be read has its
 * default. Dotted names are read too: `{ "reach.left": 9 }`.
 */
export function readSettings(section: unknown): ServerSettings {
  const all = recordOf(section);
  const at = (outer: string, inner: string): unknown =>
    all[`${outer}.${inner}`] ?? recordOf(all[outer])[inner];
  const isOn = (value: unknown, unsaid: boolean): boolean => (typeof value === "boolean" ? value : unsaid);
  const most = at("symbols", "max");
  return {
    document: {
      severities: Object.fromEntries(
        Object.entries(recordOf(all.severities)).filter(([, severity]) => severities.has(severity)),
      ) as DocumentSettings["severities"],
      reach: { left: reachOf(at("reach", "left")), right: reachOf(at("reach", "right")) },
    },
    hoverScales: isOn(at("hover", "scales"), defaultServerSettings.hoverScales),
    hoverPicture: isOn(at("hover", "picture"), defaultServerSettings.hoverPicture),
    hintNotes: isOn(at("inlayHints", "notes"), defaultServerSettings.hintNotes),
    hintLetters: isOn(at("inlayHints", "letters"), defaultServerSettings.hintLetters),
    hintFingering: isOn(at("inlayHints", "fingering"), defaultServerSettings.hintFingering),
    mostSymbols:
      typeof most === "number" && Number.isInteger(most) && most > 0
        ? most
        : defaultServerSettings.mostSymbols,
  };
}

/** The section inside whatever a client sends unasked: `{ plagal: { … } }`, or what it holds. */
export function sectionOf(settings: unknown): unknown {
  const all = recordOf(settings);
  return "plagal" in all ? all.plagal : settings;
}
