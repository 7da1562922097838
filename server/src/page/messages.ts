import type { LiveChart } from "../exports/live-chart.js";

/** What the page beside the text and the editor say to each other. Offsets count from the text's start, in UTF-16 units. */

/** How a page shows its chart. */
export interface Look {
  readonly chords: "both" | "letters" | "numbers";
  readonly hands: "names" | "keyboards" | "staff" | "none";
  /** As the editor's theme has it, or against it. */
  readonly paper: "editor" | "light" | "dark";
  /** Of its text, in parts of a hundred. */
  readonly size: number;
  /** Nothing but the chart, turned like pages. */
  readonly stand: boolean;
}

/** What outlives a reload of the window. */
export interface PageState {
  /** The chart. */
  readonly uri: string;
  /** It stays with its chart, whatever chart is in front. */
  readonly pinned: boolean;
  readonly look: Look;
  /** The id of the bar at the top; "" at the very top. */
  readonly top: string;
}

/** A key that the page can play in. */
export interface PageKeyChoice {
  /** As a chart writes it: `Eb`. */
  readonly key: string;
  /** `E♭ major` */
  readonly name: string;
}

/**
 * What is played when the player says so in the editor: from the cursor, the section around it, all from the start, or
 * the selected bars round and round.
 */
export type PlayFrom = "here" | "section" | "start" | "selection";

export type ToPage =
  | {
      readonly kind: "chart";
      readonly uri: string;
      readonly version: number;
      readonly chart: LiveChart;
      readonly keys: readonly PageKeyChoice[];
      /** The key that it is shown in, where that isn't its own. */
      readonly key: string | undefined;
      readonly pinned: boolean;
    }
  /** There is nothing to show, and why. */
  | { readonly kind: "nothing"; readonly words: string }
  | {
      readonly kind: "cursor";
      readonly version: number;
      readonly offset: number;
      /** What is selected; from the cursor to the cursor where nothing is. */
      readonly selected: readonly [from: number, to: number];
    }
  | { readonly kind: "play"; readonly from: PlayFrom };

export type FromPage =
  /** It can be told things now. */
  | { readonly kind: "ready" }
  /** Somebody pressed something that stands there in the text. */
  | {
      readonly kind: "go";
      readonly version: number;
      readonly offset: number;
      /** The keyboard goes there too. */
      readonly focus: boolean;
    }
  /** What sounds now, as stretches of the text; none where nothing does. */
  | {
      readonly kind: "sounding";
      readonly version: number;
      readonly spans: readonly (readonly [number, number])[];
    }
  /** Play in another key; `undefined` for the chart's own. */
  | { readonly kind: "key"; readonly key: string | undefined }
  /** The hands are shown as a staff, which takes the chart's pictures for an engraver; or no more. */
  | { readonly kind: "staff"; readonly wanted: boolean }
  | { readonly kind: "pin"; readonly pinned: boolean }
  /** Write this tempo into the chart, in beats a minute. */
  | { readonly kind: "tempo"; readonly tempo: number };
