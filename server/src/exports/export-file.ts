import type { Chart } from "../chart/model.js";
import { encodeUtf8 } from "../text/utf8.js";
import type { ExportedFile, Exporters, ExportKind } from "./exporters.js";
import type { PageOptions } from "./page.js";
import type { Pages } from "./pages.js";
import type { Sheets } from "./sheets.js";
import type { SheetOptions } from "./stand-sheet.js";

/** What is made for the ear or for other programs, and what for the eye. */
export type FileKind = ExportKind | "pdf" | "svg" | "page";

/** A bundle of exporters, by the name of its file. Each is loaded when first asked for. */
export type BundleName = "exports" | "sheets" | "page" | "live" | "picture";

/** The kinds of files, with the endings of their names and the bundle that makes them. */
export const fileKinds: Readonly<Record<FileKind, { readonly ending: string; readonly bundle: BundleName }>> =
  {
    midi: { ending: "mid", bundle: "exports" },
    musicxml: { ending: "musicxml", bundle: "exports" },
    pdf: { ending: "pdf", bundle: "sheets" },
    svg: { ending: "svg", bundle: "sheets" },
    page: { ending: "html", bundle: "page" },
  };

/** What the bundles hold. */
export interface Bundles {
  readonly exporters: () => Exporters;
  readonly sheets: () => Sheets;
  readonly pages: () => Pages;
}

export interface FileOptions extends Pick<PageOptions, "moved"> {
  readonly sheet?: SheetOptions;
  /** The name of the section that an svg shows; the first unless told. */
  readonly section?: string | undefined;
}

/** A file of a chart; `undefined` where the section to be drawn isn't there. */
export function exportFile(
  kind: FileKind,
  chart: Chart,
  bundles: Bundles,
  { moved, sheet, section }: FileOptions,
): ExportedFile | undefined {
  if (kind === "midi" || kind === "musicxml") return bundles.exporters()[kind](chart);
  if (kind === "page") return bundles.pages().page(chart, { moved });
  const whole = { cut: false, bars: 0 };
  if (kind === "pdf") return { ...whole, bytes: bundles.sheets().pdf(chart, sheet) };
  const picture = bundles.sheets().svg(chart, section, sheet);
  return picture === undefined ? undefined : { ...whole, bytes: encodeUtf8(picture) };
}
