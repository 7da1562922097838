/** Engraves scores. */
export interface Engraver {
  /**
   * The pictures of a score (MusicXML), as texts of SVG from top to bottom. A staff is 72 units high, and a line at
   * most `width` units long, or as long as the fullest bar needs; above each there are `above` units of room.
   */
  readonly engrave: (score: string, width: number, above: number) => readonly string[];
}

/** The parts of verovio 6.3 that are used here. */
interface Verovio {
  readonly module: {
    /** Once it has come so far that it can be used. */
    readonly _vrvToolkit_constructor?: unknown;
    onRuntimeInitialized?: () => void;
    onAbort?: (why: unknown) => void;
  };
  readonly toolkit: new () => Toolkit;
  readonly enableLogToBuffer: (value: boolean) => void;
}

interface Toolkit {
  readonly setOptions: (options: Readonly<Record<string, unknown>>) => void;
  readonly loadData: (data: string) => number | boolean;
  readonly getPageCount: () => number;
  readonly renderToSVG: (page: number) => string;
  readonly getLog: () => string;
}

let loading: Promise<Engraver> | undefined;

/** Loads the engraver from its address, once; it is large, so only when it is needed. */
export function loadEngraver(address: string): Promise<Engraver> {
  loading ??= loaded(address).then(engraverOf);
  return loading;
}

/** The engraver's own way to say that it can't start reaches nobody. */
function mayRun(): boolean {
  try {
    // A module with nothing in it: its sign and its version (WebAssembly Core 1.0, "Binary Format, Modules").
    return new WebAssembly.Module(new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0])) !== undefined;
  } catch {
    return false;
  }
}

function loaded(address: string): Promise<Verovio> {
  return new Promise((resolve, reject) => {
    if (!mayRun()) {
      reject(new Error("WebAssembly isn’t allowed here"));
      return;
    }
    const script = document.createElement("script");
    script.src = address;
    script.addEventListener("error", () => reject(new Error("it isn’t there")));
    script.addEventListener("load", () => {
      const { verovio } = globalThis as { readonly verovio?: Verovio };
      if (verovio === undefined) {
        reject(new Error("it doesn’t run here"));
        return;
      }
      const { module } = verovio;
      if (module._vrvToolkit_constructor !== undefined) resolve(verovio);
      else {
        module.onRuntimeInitialized = () => resolve(verovio);
        module.onAbort = (why) => reject(new Error(String(why)));
      }
    });
    document.head.append(script);
  });
}

/** Half of the distance between two lines of a staff, in the engraver's units. */
const halfSpace = 9;

const options = {
  pageHeight: 60_000,
  adjustPageHeight: true,
  header: "none",
  footer: "none",
  // Room for the brace of a grand staff.
  pageMarginLeft: 30,
  pageMarginRight: 0,
  pageMarginBottom: 0,
  harmDist: 1.5,
  minLastJustification: 0.65,
  lyricSize: 5,
  svgViewBox: true,
  svgRemoveXlink: true,
  svgFormatRaw: true,
  smuflTextFont: "none",
};

/** A line is never longer than this, so that nothing is asked for ever again. */
const longestLine = 20_000;

/** Where lines end: where they are full, where the score says if they are full enough, or just where it says. */
type Breaks = "auto" | "smart" | "encoded";

/** Pages as texts of SVG, and the width that they were given. */
interface Pages {
  readonly pages: readonly string[];
  readonly width: number;
}

function engraverOf(verovio: Verovio): Engraver {
  const toolkit = new verovio.toolkit();
  verovio.enableLogToBuffer(true);

  function pagesOf(score: string, width: number, above: number, breaks: Breaks): Pages {
    let pageWidth = Math.round(width);
    for (;;) {
      toolkit.setOptions({
        ...options,
        breaks,
        pageWidth,
        pageMarginTop: Math.round(above),
        spacingSystem: Math.round(above / halfSpace),
      });
      if (!toolkit.loadData(score)) throw new Error(`A score can’t be read: ${toolkit.getLog()}`);
      const pages = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1));
      const remarks = toolkit.getLog();
      const needed = neededWidth(remarks);
      if (needed === undefined || pageWidth >= longestLine) {
        if (remarks.trim() !== "") console.warn(remarks);
        return { pages, width: pageWidth };
      }
      pageWidth = Math.min(longestLine, Math.max(Math.ceil(pageWidth * 1.1), needed));
    }
  }

  return {
    engrave(score, width, above) {
      const first = pagesOf(score, width, above, score.includes("new-system") ? "smart" : "auto");
      const even = withEvenEnd(score, first.pages);
      if (even === undefined) return first.pages;
      const second = pagesOf(even, width, above, "encoded");
      return second.width === first.width ? second.pages : first.pages;
    },
  };
}

/** The score with its last two lines about as long as each other; `undefined` where they are so already. */
function withEvenEnd(score: string, pages: readonly string[]): string | undefined {
  const lines = pages.flatMap((page) =>
    page
      .split('class="system"')
      .slice(1)
      .map((line) => [...line.matchAll(/<g id="([^"]*)" class="measure"/g)].map(([, id]) => id as string)),
  );
  const [last, before] = [lines.pop(), lines.pop()];
  if (last === undefined || before === undefined || last.length * 2 >= before.length) return undefined;
  const bars = [...before, ...last];
  const half = Math.ceil(bars.length / 2);
  const starts = new Set([...lines, bars, bars.slice(half)].slice(1).map(([id]) => id));
  if (lines.length === 0) starts.delete(bars[0]);
  return score
    .replaceAll('<print new-system="yes"/>', "")
    .replace(/<measure [^>]*\bid="([^"]*)">/g, (start, id: string) =>
      starts.has(id) ? `${start}<print new-system="yes"/>` : start,
    );
}

/** It says when a bar is too full for a line, and how wide it would be; `undefined` where every bar has its room. */
function neededWidth(remarks: string): number | undefined {
  if (!remarks.includes("highly compressed")) return undefined;
  const widest = (what: string): number =>
    Math.max(0, ...[...remarks.matchAll(new RegExp(`${what} width: (\\d+)`, "g"))].map(([, n]) => Number(n)));
  const units = widest("Non-justifiable") + widest("Drawing justifiable");
  return Math.ceil(units / 10) + options.pageMarginLeft;
}
