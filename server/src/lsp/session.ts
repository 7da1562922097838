import {
  type CancellationToken,
  type Connection,
  type FileEvent,
  LSPErrorCodes,
  type Range,
  ResponseError,
  type TextDocumentContentChangeEvent,
  type TextDocumentItem,
  type WorkspaceFoldersChangeEvent,
} from "vscode-languageserver";
import { type Document, type FileFound, type Files, openDocument } from "../document/document.js";
import type { Charts } from "../features/charts.js";
import type { Client } from "./client.js";
import { clientFiles } from "./client-files.js";
import { readTheme } from "./editor-theme.js";
import type { Host } from "./host.js";
import type { ClientNotifications, EditorTheme } from "./protocol.js";
import { defaultServerSettings, readSettings, type ServerSettings, sectionOf } from "./settings.js";
import { makeShelf } from "./shelf.js";
import { type Place, type TypedText, typedText } from "./typed-text.js";
import { folderOf, follow, isInside, nameOfUri } from "./uri.js";

/** A chart that the client has open. */
export interface OpenChart {
  /** As the client writes it. */
  readonly uri: string;
  /** The one name of the file. */
  readonly name: string;
  /** Its text as of the last change. */
  readonly text: TypedText;
  /** As the client counts it. */
  version: number;
  /** Counts the changes of the text, whatever versions the client counts. */
  revision: number;
  /** The latest snapshot, with what it was made of. */
  made:
    | { readonly document: Document; readonly revision: number; readonly settings: ServerSettings }
    | undefined;
  /** The other charts that the latest snapshot has asked for, found or not. */
  asked: Set<string>;
  /** One of them has changed since. */
  isOutdated: boolean;
}

/** What an answer is made from. */
export interface Subject {
  readonly chart: OpenChart;
  readonly document: Document;
  readonly settings: ServerSettings;
}

/** What the session tells whoever shows problems. */
export interface Listener {
  /** The problems of this chart may be others now. `typed`: its own text has changed. */
  readonly changed: (chart: OpenChart, typed: boolean) => void;
  readonly closed: (chart: OpenChart) => void;
}

/** Everything that the server remembers of one client. */
export interface Session {
  readonly client: Client;
  readonly host: Host;
  readonly connection: Connection;
  /** The folder of the check pages. */
  readonly pages: string | undefined;
  /** The first settings have come, or nobody could be asked. */
  readonly hasSettings: () => boolean;
  readonly settingsKnown: Promise<void>;
  /** Of the setting without a folder. */
  readonly mostSymbols: () => number;
  readonly listen: (listener: Listener) => void;
  /** The theme that pictures in hovers are drawn for; `undefined` where the client shows none. */
  readonly theme: () => EditorTheme | undefined;

  readonly open: (item: TextDocumentItem) => void;
  readonly change: (uri: string, version: number, changes: readonly TextDocumentContentChangeEvent[]) => void;
  readonly close: (uri: string) => void;
  readonly saved: (uri: string) => void;
  readonly filesChanged: (events: readonly FileEvent[]) => void;
  readonly foldersChanged: (event: WorkspaceFoldersChangeEvent) => void;
  /** Asks the client for its settings; where it can't be asked, `sent` is what it sent unasked. */
  readonly settingsChanged: (sent: unknown) => Promise<void>;
  /** Of a client that shows pictures. */
  readonly themeChanged: (params: ClientNotifications["plagal/theme"]) => void;

  readonly all: () => Iterable<OpenChart>;
  /** The present version of a chart, with the charts that it uses. At once where all is read. */
  readonly subjectOf: (chart: OpenChart) => Subject | Promise<Subject>;
  /** Reads the charts that it uses anew, for a client that doesn't watch files. */
  readonly lookAgain: (chart: OpenChart) => Promise<void>;
  /**
   * The answer about an open chart, made from its present version; `undefined` where it isn't open. Refused where
   * it was changed or cancelled before the answer was made. `patient`: an answer about the whole chart, which waits
   * until no further change is waiting.
   */
  readonly ask: <T>(
    uri: string,
    token: CancellationToken,
    answer: (subject: Subject) => T | Promise<T>,
    patient?: "patient",
  ) => Promise<T | undefined>;
  /** All charts of the workspace and all that are open, read where they haven't been. */
  readonly charts: () => Promise<Charts>;
  /** The charts that are known without reading: the open ones and those that they use. */
  readonly knownCharts: () => Charts;
  /** The client's own URI for a file. */
  readonly uriOf: (name: string) => string;
  /** As an edit names a chart: the client's own URI, and the version where it is open. */
  readonly identify: (name: string) => { readonly uri: string; readonly version: number | undefined };
  /** An open chart by its name. */
  readonly openChart: (name: string) => OpenChart | undefined;
}

/** Characters of a chart at most; a longer text is hardly a chart, and is not read. */
export const longestChart = 4 * 1024 * 1024;
/** How long the first judgement waits for the client's settings, in milliseconds. */
const patience = 2000;

const isPlace = (it: Partial<Place> | null | undefined): boolean =>
  [it?.line, it?.character].every((n) => Number.isInteger(n) && (n as number) >= 0);

/** Of a whole text, or of a stretch that is given by two places. */
const isChange = (it: TextDocumentContentChangeEvent): it is { text: string; range?: Range } =>
  typeof it?.text === "string" &&
  (!("range" in it) || it.range === undefined || (isPlace(it.range?.start) && isPlace(it.range?.end)));

const neverMind = (): void => undefined;

export function openSession(connection: Connection, host: Host, client: Client): Session {
  const opened = new Map<string, OpenChart>();
  const files = client.options.readsFiles === true ? clientFiles(connection) : host;
  const shelf = makeShelf(files.read);
  let folders: readonly string[] = client.folders;
  let folderNames = folders.map(nameOfUri);
  /** By the name of the folder; `""` for what is in none. */
  let settings: ReadonlyMap<string, ServerSettings> = new Map([
    ["", readSettings(sectionOf(client.options.settings))],
  ]);
  let theme = client.pictures;
  let hasSettings = false;
  let tellSettings: () => void = neverMind;
  const settingsKnown = new Promise<void>((resolve) => {
    tellSettings = resolve;
  });
  const knowSettings = (): void => {
    hasSettings = true;
    tellSettings();
  };
  if (!client.canBeAskedForSettings) knowSettings();
  let listener: Listener = { changed: neverMind, closed: neverMind };

  // --- settings -------------------------------------------------------------------------------------------------

  function settingsFor(name: string): ServerSettings {
    const inside = folderNames.filter((folder) => isInside(folder, name)).sort((a, b) => b.length - a.length);
    return settings.get(inside[0] ?? "") ?? settings.get("") ?? defaultServerSettings;
  }

  function takeSettings(next: ReadonlyMap<string, ServerSettings>): void {
    const before = new Map([...opened.values()].map((chart) => [chart, settingsFor(chart.name)]));
    // What stays the same stays the same object, so that nothing is judged anew for nothing.
    const known = [...settings.values(), defaultServerSettings];
    settings = new Map(
      [...next].map(([folder, it]) => {
        const text = JSON.stringify(it);
        return [folder, known.find((one) => JSON.stringify(one) === text) ?? it];
      }),
    );
    const isFirst = !hasSettings;
    knowSettings();
    const others = [...before].filter(([chart, had]) => settingsFor(chart.name) !== had);
    for (const [chart] of isFirst ? before : others) listener.changed(chart, false);
    if (others.length > 0 && client.refreshesHints)
      connection.sendRequest("workspace/inlayHint/refresh").catch(neverMind);
  }

  async function settingsChanged(sent: unknown): Promise<void> {
    if (!client.canBeAskedForSettings) {
      takeSettings(new Map([["", readSettings(sectionOf(sent))]]));
      return;
    }
    const stopWaiting = hasSettings ? neverMind : host.later(patience, () => takeSettings(settings));
    const asked = folders;
    try {
      const items = [{ section: "plagal" }, ...asked.map((scopeUri) => ({ scopeUri, section: "plagal" }))];
      const answers: unknown = await connection.sendRequest("workspace/configuration", { items });
      const list = Array.isArray(answers) ? answers : [];
      const unscoped = list[0] ?? sectionOf(client.options.settings);
      takeSettings(
        new Map([
          ["", readSettings(unscoped)],
          ...asked.map((uri, i) => [nameOfUri(uri), readSettings(list[i + 1] ?? unscoped)] as const),
        ]),
      );
    } catch {
      takeSettings(settings);
    } finally {
      stopWaiting();
    }
  }

  // --- the charts that are used ---------------------------------------------------------------------------------

  /** Where a chart may read: the workspace folders and its own. */
  const readable = (chart: string): readonly string[] => {
    const own = folderOf(chart);
    return own === undefined ? folderNames : [...folderNames, own];
  };

  /** The file that a `use` line leads to; `undefined` for one that may not be read. */
  function followInside(from: string, path: string, within: readonly string[]): string | undefined {
    const name = follow(from, path);
    return name !== undefined && within.some((folder) => isInside(folder, name)) ? name : undefined;
  }

  function filesFor(chart: string, ask: (name: string) => void): Files {
    const within = readable(chart);
    return {
      find(from, path): FileFound {
        const name = followInside(from, path, within);
        if (name === undefined) return { kind: "outside" };
        ask(name);
        const text = textOf(name);
        if (text !== undefined) return { kind: "text", path: name, text };
        const read = shelf.get(name);
        if (read === undefined) return { kind: "missing" };
        return read.kind === "text" ? { kind: "unreadable" } : read;
      },
    };
  }

  /** The present text of a chart, open or as it was read; `undefined` where there is none or it is too long. */
  function textOf(name: string): string | undefined {
    const chart = opened.get(name);
    const read = shelf.get(name);
    const text = chart !== undefined ? chart.text.whole() : read?.kind === "text" ? read.text : undefined;
    return text === undefined || text.length > longestChart ? undefined : text;
  }

  /** Counts what may make other charts sound otherwise. */
  let generation = 0;

  /** Another chart has changed: those that asked for it are looked at again. */
  function outdate(name: string): void {
    generation++;
    for (const chart of opened.values()) {
      if (chart.name === name || !chart.asked.has(name)) continue;
      chart.isOutdated = true;
      listener.changed(chart, false);
    }
  }

  // --- snapshots ------------------------------------------------------------------------------------------------

  function documentOf(chart: OpenChart): Subject {
    const now = settingsFor(chart.name);
    const { made, revision } = chart;
    if (made?.revision === revision && made.settings === now && !chart.isOutdated)
      return { chart, document: made.document, settings: now };
    chart.asked = new Set();
    chart.isOutdated = false;
    const whole = chart.text.whole();
    const text = whole.length > longestChart ? "" : whole;
    const files = filesFor(chart.name, (name) => chart.asked.add(name));
    const document = openDocument(chart.name, text, files, now.document, made?.document);
    chart.made = { document, revision, settings: now };
    return { chart, document, settings: now };
  }

  function subjectOf(chart: OpenChart): Subject | Promise<Subject> {
    const subject = documentOf(chart);
    if (!subject.document.outline.header.some(({ statement }) => statement.kind === "use")) return subject;
    // Resolving asks for the other charts.
    void subject.document.chart;
    const unread = [...chart.asked].filter((name) => !opened.has(name) && shelf.get(name) === undefined);
    if (unread.length === 0) return subject;
    const within = readable(chart.name);
    return Promise.all(unread.map((name) => shelf.read(name, within))).then(() => {
      chart.isOutdated = true;
      return subjectOf(chart);
    });
  }

  async function ask<T>(
    uri: string,
    token: CancellationToken,
    answer: (subject: Subject) => T | Promise<T>,
    patient?: "patient",
  ): Promise<T | undefined> {
    const chart = opened.get(nameOfUri(uri));
    if (chart === undefined) return undefined;
    const { revision } = chart;
    const check = (): void => {
      if (token.isCancellationRequested)
        throw new ResponseError(LSPErrorCodes.RequestCancelled, "Cancelled.");
      if (chart.revision !== revision || opened.get(chart.name) !== chart)
        throw new ResponseError(LSPErrorCodes.ContentModified, "The chart has changed meanwhile.");
    };
    if (patient !== undefined) await new Promise<void>((resolve) => void host.whenIdle(resolve));
    check();
    const subject = subjectOf(chart);
    const result = answer(subject instanceof Promise ? await subject.then(checked) : subject);
    return result instanceof Promise ? result.then(checked) : result;

    function checked<V>(value: V): V {
      check();
      return value;
    }
  }

  // --- all charts of the workspace ------------------------------------------------------------------------------

  /** Snapshots of charts that aren't open, by name. */
  const unopened = new Map<string, { readonly document: Document; readonly generation: number }>();
  /** The client's URIs of charts that were listed. */
  let listed = new Map<string, string>();
  let isListed = false;

  async function charts(): Promise<Charts> {
    if (!isListed || !client.watchesFiles) {
      const uris = await files.charts(folders).catch((): readonly string[] => []);
      listed = new Map(uris.map((uri) => [nameOfUri(uri), uri]));
      isListed = true;
    }
    const closed = [...listed.keys()].filter((name) => !opened.has(name));
    await Promise.all(
      closed.map(async (name) => {
        if (client.watchesFiles) await shelf.read(name, readable(name));
        else if (await shelf.readAgain(name, readable(name))) outdate(name);
      }),
    );
    await Promise.all([...opened.values()].map((chart) => subjectOf(chart)));
    return knownCharts();
  }

  function knownCharts(): Charts {
    const used = [...opened.values()].flatMap(({ asked }) => [...asked]);
    const names = [...new Set([...listed.keys(), ...opened.keys(), ...used])].sort();
    const known = new Set(names);
    for (const name of unopened.keys()) if (!known.has(name)) unopened.delete(name);
    return {
      open: chartNamed,
      all: () => names.map(chartNamed).filter((document) => document !== undefined),
      find: (from, path) => {
        const name = followInside(from, path, readable(from));
        return name !== undefined && textOf(name) !== undefined ? name : undefined;
      },
    };
  }

  function chartNamed(name: string): Document | undefined {
    const chart = opened.get(name);
    if (chart !== undefined) return documentOf(chart).document;
    const text = textOf(name);
    if (text === undefined) return undefined;
    const known = unopened.get(name);
    if (known?.document.text === text && known.generation === generation) return known.document;
    const files = filesFor(name, neverMind);
    const document = openDocument(name, text, files, settingsFor(name).document, known?.document);
    unopened.set(name, { document, generation });
    return document;
  }

  const uriOf = (name: string): string => opened.get(name)?.uri ?? listed.get(name) ?? name;

  // --- what the client tells ------------------------------------------------------------------------------------

  return {
    client,
    host,
    connection,
    pages: client.options.pages ?? host.pages,
    hasSettings: () => hasSettings,
    settingsKnown,
    theme: () => theme,
    mostSymbols: () => (settings.get("") ?? defaultServerSettings).mostSymbols,
    listen: (it) => {
      listener = it;
    },

    open({ uri, version, text }) {
      if (typeof uri !== "string" || typeof text !== "string") throw new Error("a chart without URI or text");
      const name = nameOfUri(uri);
      const before = opened.get(name);
      const chart: OpenChart = {
        uri,
        name,
        text: typedText(text),
        version,
        revision: 0,
        made: undefined,
        asked: new Set(),
        isOutdated: false,
      };
      if (before !== undefined) listener.closed(before);
      opened.set(name, chart);
      unopened.delete(name);
      listener.changed(chart, true);
      outdate(name);
    },

    change(uri, version, changes) {
      const chart = opened.get(nameOfUri(uri));
      if (chart === undefined) return;
      if (!Array.isArray(changes) || !changes.every(isChange)) throw new Error("a change that is none");
      for (const change of changes) {
        if (change.range === undefined) chart.text.replace(change.text);
        else chart.text.change(change.range.start, change.range.end, change.text);
      }
      chart.version = version;
      chart.revision++;
      listener.changed(chart, true);
      outdate(chart.name);
    },

    close(uri) {
      const chart = opened.get(nameOfUri(uri));
      if (chart === undefined) return;
      opened.delete(chart.name);
      // What counts from now on is what stands on the disk.
      shelf.forget(chart.name);
      listener.closed(chart);
      outdate(chart.name);
    },

    saved(uri) {
      const name = nameOfUri(uri);
      isListed = isListed && listed.has(name);
    },

    filesChanged(events) {
      for (const { uri } of events) {
        const name = nameOfUri(uri);
        shelf.forget(name);
        isListed = false;
        outdate(name);
      }
    },

    foldersChanged({ added, removed }) {
      const gone = new Set(removed.map(({ uri }) => nameOfUri(uri)));
      const stay = folders.filter((uri) => !gone.has(nameOfUri(uri)));
      folders = [...stay, ...added.map(({ uri }) => uri)];
      folderNames = folders.map(nameOfUri);
      isListed = false;
      for (const chart of opened.values()) {
        chart.isOutdated = true;
        listener.changed(chart, false);
      }
      // They may have settings of their own.
      if (client.canBeAskedForSettings) void settingsChanged(undefined);
    },

    settingsChanged,
    themeChanged(params) {
      const told = readTheme(params?.theme);
      if (told === undefined) throw new Error("a theme that is none");
      if (theme !== undefined) theme = told;
    },

    all: () => opened.values(),
    subjectOf,
    async lookAgain(chart) {
      const within = readable(chart.name);
      const closed = [...chart.asked].filter((name) => !opened.has(name));
      const changed = await Promise.all(
        closed.map(async (name) => ((await shelf.readAgain(name, within)) ? name : undefined)),
      );
      for (const name of changed) if (name !== undefined) outdate(name);
    },
    ask,
    charts,
    knownCharts,
    uriOf,
    identify: (name) => ({ uri: uriOf(name), version: opened.get(name)?.version }),
    openChart: (name) => opened.get(name),
  };
}
