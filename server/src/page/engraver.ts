/** Engraves scores. */
export interface Engraver {
  /**
   * The pictures of a score (MusicXML), as texts of SVG from top to bottom. A staff is 72 units high, and a line at
   * most `width` units long, or as long as the fullest bar needs.
   */
  readonly engrave: (score: string, width: number, spaceUnderChords: boolean) => readonly string[];
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

function loaded(address: string): Promise<Verovio> {
  return new Promise((resolve, reject) => {
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

/** Engraver's units: half of the distance between two lines of a staff is 9 of them. */
const options = {
  pageHeight: 60_000,
  adjustPageHeight: true,
  header: "none",
  footer: "none",
  breaks: "auto",
  // Room for the brace of a grand staff, and for bar numbers and what plays now between the lines.
  pageMarginLeft: 30,
  pageMarginRight: 0,
  pageMarginTop: 60,
  pageMarginBottom: 20,
  spacingSystem: 10,
  lyricSize: 5,
  svgViewBox: true,
  svgRemoveXlink: true,
  svgFormatRaw: true,
  smuflTextFont: "none",
};

/** In half spaces: how far chords are from what is under them, alone and with a number under each. */
const [chordSpace, numberSpace] = [1.5, 5.5];

/** A line is never longer than this, so that nothing is asked for ever again. */
const longestLine = 20_000;

function engraverOf(verovio: Verovio): Engraver {
  const toolkit = new verovio.toolkit();
  verovio.enableLogToBuffer(true);
  return {
    engrave(score, width, spaceUnderChords) {
      let pageWidth = Math.round(width);
      for (;;) {
        toolkit.setOptions({ ...options, pageWidth, harmDist: spaceUnderChords ? numberSpace : chordSpace });
        if (!toolkit.loadData(score)) throw new Error(`a score can’t be read: ${toolkit.getLog()}`);
        const pages = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1));
        const remarks = toolkit.getLog();
        const needed = neededWidth(remarks);
        if (needed === undefined || pageWidth >= longestLine) {
          if (remarks.trim() !== "") console.warn(remarks);
          return pages;
        }
        pageWidth = Math.min(longestLine, Math.max(Math.ceil(pageWidth * 1.1), needed));
      }
    },
  };
}

/** It says when a bar is too full for a line, and how wide it would be; `undefined` where every bar has its room. */
function neededWidth(remarks: string): number | undefined {
  if (!remarks.includes("highly compressed")) return undefined;
  const widest = (what: string): number =>
    Math.max(0, ...[...remarks.matchAll(new RegExp(`${what} width: (\\d+)`, "g"))].map(([, n]) => Number(n)));
  const units = widest("Non-justifiable") + widest("Drawing justifiable");
  return Math.ceil(units / 10) + options.pageMarginLeft;
}
