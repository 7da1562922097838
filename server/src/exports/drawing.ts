/** A place on a drawing, from its upper left corner: points of 1/72 inch, x to the right and y down. */
export type Point = readonly [x: number, y: number];

/** What is filled and what is drawn round; `undefined` where it isn't. Colours are `#rrggbb`. */
interface Paint {
  readonly fill?: string | undefined;
  readonly stroke?: string | undefined;
  /** Points. */
  readonly strokeWidth?: number | undefined;
  /** A stroke that is broken: lengths of its dashes and of the gaps between them by turns, in points; over and over. */
  readonly dashes?: readonly number[] | undefined;
}

/** Straight lines from point to point; several in one shape share its paint. A closed one goes back to its start. */
export interface PathShape extends Paint {
  readonly kind: "path";
  readonly lines: readonly (readonly Point[])[];
  readonly closed: boolean;
}

export interface OvalShape extends Paint {
  readonly kind: "oval";
  readonly centre: Point;
  readonly radii: Point;
  /** Degrees, clockwise. */
  readonly turned: number;
}

export interface TextShape {
  readonly kind: "text";
  /** The baseline where the text starts, has its middle, or ends. */
  readonly at: Point;
  readonly anchor: "start" | "middle" | "end";
  readonly text: string;
  readonly size: number;
  readonly bold: boolean;
  readonly fill: string;
  /** How wide it was laid out, where a font that is wider would run into its neighbour. */
  readonly width?: number;
}

export type Shape = PathShape | OvalShape | TextShape;

/** A picture as data, drawn in order: what is later lies on top. It becomes SVG or a part of a printed page. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** Says in words what is to be seen. */
  readonly words: string;
  readonly shapes: readonly Shape[];
}

/** The corners of a box. */
export const box = (x: number, y: number, width: number, height: number): readonly Point[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];
