import type { Position, Range, TextDocumentIdentifier, WorkspaceEdit } from "vscode-languageserver";
import type { LiveChart } from "../exports/live-chart.js";

/**
 * What client and server say to each other beyond the Language Server Protocol. All of it is optional: an editor
 * that knows none of it has every feature, the moves as code actions.
 */

/** `initializationOptions`; each may be left out. */
export interface InitializationOptions {
  /** The folder of the check pages, as a URI that ends in `/`. The page of a check is CODE.md in it. */
  readonly pages?: string;
  /** The client has the commands `plagal.move` and `plagal.voice`, which let the player choose a key and a style. */
  readonly pickers?: boolean;
  /** The client answers `plagal/read`, `plagal/charts` and `plagal/script`: for a server that can't read files by itself. */
  readonly readsFiles?: boolean;
  /** The client shows pictures in hovers; the colour theme that they are drawn for. It tells others with `plagal/theme`. */
  readonly pictures?: EditorTheme;
  /** Settings for a client that can't be asked for them, in the form of the section `plagal`. */
  readonly settings?: unknown;
}

/** What an editor's colour theme is like. */
export type EditorTheme = "light" | "dark" | "high contrast" | "high contrast light";

export interface ThemeParams {
  readonly theme: EditorTheme;
}

/** What client requests are about: the whole chart, a stretch of it, or the section around a stretch. */
export interface Place {
  readonly textDocument: TextDocumentIdentifier;
  /** A selection, or the cursor as an empty range. Widened to whole systems where `section` isn't true. */
  readonly range?: Range;
  /** The section that `range` starts in. */
  readonly section?: boolean;
}

/** A key to move to. */
export interface KeyChoice {
  /** As a chart writes it and as `plagal/move` takes it: `Eb`. */
  readonly key: string;
  /** For reading: `E♭ major`. */
  readonly name: string;
  /** `3 flats` */
  readonly signature: string;
  /** How far from the present key, in words: `up a minor third`. */
  readonly interval: string;
  /** The melody's lowest and highest note there: `B♭3`, `E♭5`. Left out where the place has no melody. */
  readonly lowest?: string;
  readonly highest?: string;
  /** The key that the music is in now. */
  readonly present: boolean;
}

/** A change of one chart, to be applied as one edit; the client applies it. */
export interface EditAnswer {
  /** Left out where there is nothing to change, or where `refused` says why not. */
  readonly edit?: WorkspaceEdit;
  /** What the player should know, as sentences. */
  readonly notes: readonly string[];
  /** Why it can't be done and what to do, as a sentence. */
  readonly refused?: string;
}

export interface MoveParams extends Place {
  /** The tonic, `Eb`; the mode stays. */
  readonly key: string;
}

export interface MoveAllParams {
  readonly key: string;
  /** The answer's progress is told under this token. */
  readonly workDoneToken?: string | number;
}

export interface MoveAllAnswer {
  /** One for each chart of the workspace, in the order of their URIs. */
  readonly charts: readonly (EditAnswer & { readonly uri: string })[];
}

export interface RewriteParams {
  readonly textDocument: TextDocumentIdentifier;
  readonly to: "numbers" | "letters";
  /** Which rows; chords and hands where left out. */
  readonly rows?: readonly ("chords" | "lead" | "right" | "left" | "bass")[];
}

export interface PractiseParams {
  readonly textDocument: TextDocumentIdentifier;
  readonly order: "fourths" | "half-steps" | "shuffled";
  /** A whole number; the same one shuffles alike. */
  readonly seed: number;
}

/** Whose row is voiced. */
export type VoicedRows = "both" | "right" | "left";

/** Hands that can be voiced at a place, and in which styles. */
export interface VoicingChoice {
  readonly rows: VoicedRows;
  /** `Both hands` */
  readonly name: string;
  /** `fills 8 empty bars` */
  readonly fills: string;
  /** Nothing is empty there: it can only be written anew. */
  readonly anew: boolean;
  readonly styles: readonly StyleChoice[];
}

export interface StyleChoice {
  /** As `plagal/voice` takes it: `drop 2`. */
  readonly style: string;
  /** One sentence. */
  readonly description: string;
  /** One of those that suit first there. */
  readonly suits: boolean;
}

/** A selection stands for its slots and the empty bars that it touches; else what is empty is filled. */
export interface VoiceParams extends Place {
  readonly rows: VoicedRows;
  readonly style: string;
  /** Only voicings that can be played in all twelve keys. */
  readonly everyKey?: boolean;
  /** What is written already is written anew. */
  readonly anew?: boolean;
}

export interface NextVoicingParams {
  readonly textDocument: TextDocumentIdentifier;
  /** In a slot of a hand. */
  readonly position: Position;
}

export interface TempoParams {
  readonly textDocument: TextDocumentIdentifier;
  /** Beats a minute, a whole number from 1 to 999. */
  readonly tempo: number;
}

export interface PageParams {
  readonly textDocument: TextDocumentIdentifier;
  /** As if the chart were moved to this key, `Eb`. */
  readonly key?: string;
  /** With its pictures for an engraver. */
  readonly staff?: boolean;
}

/** What a page beside the text shows. */
export interface PageAnswer {
  /** The version of the text that it was made from. */
  readonly version: number;
  /** Left out where `refused` says why there is none. */
  readonly chart?: LiveChart;
  /** The keys that it can be shown in, its own first. */
  readonly keys: readonly { readonly key: string; readonly name: string }[];
  readonly refused?: string;
}

export interface ExportParams {
  readonly textDocument: TextDocumentIdentifier;
  readonly kind: "midi" | "musicxml" | "pdf" | "svg" | "page";
  /** As if the chart were moved to this key, `Eb`. */
  readonly key?: string;
  /** An svg shows the section there, the first one unless told. */
  readonly position?: Position;
}

/** A file made of a chart; the client writes it. */
export interface ExportAnswer {
  /** What it should be called: `harbour-evening-F-sharp.mid`. Left out where `refused` says why there is none. */
  readonly name?: string;
  /** In base64. */
  readonly bytes?: string;
  /** What the player should know, as sentences. */
  readonly notes: readonly string[];
  readonly refused?: string;
}

export interface ScriptParams {
  /** The name of a bundle beside the server's: `exports`, `sheets`, `page`, `live` or `picture`. */
  readonly name: string;
}

export interface ScriptAnswer {
  readonly text: string;
}

export interface RevoiceParams {
  readonly textDocument: TextDocumentIdentifier;
  /** White keys, 5 to 15 (8 is an octave); a hand that is left out keeps its reach. */
  readonly reach: { readonly left?: number; readonly right?: number };
}

export interface NewChartParams {
  /** `C` where left out. */
  readonly key?: string;
}

export interface NewChartAnswer {
  /** A snippet with places to fill. */
  readonly text: string;
}

export interface StatusParams {
  readonly textDocument: TextDocumentIdentifier;
}

/** A chart in a few words. */
export interface StatusAnswer {
  /** `G major` */
  readonly key: string;
  /** `72`; empty where the chart doesn't say. */
  readonly tempo: string;
  readonly errors: number;
  readonly warnings: number;
  /** Infos and hints. */
  readonly others: number;
}

export interface ReadParams {
  readonly uri: string;
}

export interface ReadAnswer {
  /** `null` where there is no such file, or where it is no UTF-8 text. */
  readonly text: string | null;
}

export interface ChartsAnswer {
  /** Every chart in the workspace folders. */
  readonly uris: readonly string[];
}

/** Requests from the client to the server. */
export interface ClientRequests {
  /** The twelve practical keys from the present one on, for a picker. */
  readonly "plagal/keys": { readonly params: Place; readonly result: readonly KeyChoice[] };
  readonly "plagal/move": { readonly params: MoveParams; readonly result: EditAnswer };
  /** The moves of all charts in the workspace; it can be cancelled. */
  readonly "plagal/moveAll": { readonly params: MoveAllParams; readonly result: MoveAllAnswer };
  readonly "plagal/rewrite": { readonly params: RewriteParams; readonly result: EditAnswer };
  /** The `form` line that plays the chart in twelve keys. */
  readonly "plagal/practise": { readonly params: PractiseParams; readonly result: EditAnswer };
  /** What can be voiced at a place; nothing where there are no chords. */
  readonly "plagal/voicings": { readonly params: Place; readonly result: readonly VoicingChoice[] };
  readonly "plagal/voice": { readonly params: VoiceParams; readonly result: EditAnswer };
  readonly "plagal/nextVoicing": { readonly params: NextVoicingParams; readonly result: EditAnswer };
  /** The whole chart made playable for hands of another reach. */
  readonly "plagal/revoice": { readonly params: RevoiceParams; readonly result: EditAnswer };
  /** A file made of a chart for other programs, for the stand, or for a browser. */
  readonly "plagal/export": { readonly params: ExportParams; readonly result: ExportAnswer };
  /** The `tempo` line at the chart's head. */
  readonly "plagal/setTempo": { readonly params: TempoParams; readonly result: EditAnswer };
  /** What a page beside the text shows; `null` where the chart isn't open. */
  readonly "plagal/page": { readonly params: PageParams; readonly result: PageAnswer | null };
  readonly "plagal/newChart": { readonly params: NewChartParams; readonly result: NewChartAnswer };
  readonly "plagal/status": { readonly params: StatusParams; readonly result: StatusAnswer };
}

/** Notifications from the client to the server. */
export interface ClientNotifications {
  /** The colour theme has changed, of a client that named one at the start. */
  readonly "plagal/theme": ThemeParams;
}

/** Requests from the server to a client with `readsFiles`. */
export interface ServerRequests {
  readonly "plagal/read": { readonly params: ReadParams; readonly result: ReadAnswer };
  readonly "plagal/charts": { readonly params: Record<string, never>; readonly result: ChartsAnswer };
  /** The program of a bundle, for a server that can't load it by itself. */
  readonly "plagal/script": { readonly params: ScriptParams; readonly result: ScriptAnswer };
}
