import { isTextRow } from "../syntax/text-row.js";
import type { BarText, RowLine, Slot } from "../syntax/tree.js";

/** What a row's line looks like, wherever it stands and whatever it sounds. */
export interface LineShape {
  /** No repeat and no ending stands in it. */
  readonly isPlain: boolean;
  /** Its slots stand for themselves: none is a `%`, and none before its first bar line. */
  readonly isWrittenOut: boolean;
  readonly hasRoll: boolean;
  /** How many of its shortest slots would fill a bar; 1 where every bar has one slot at most, and in a row of words. */
  readonly finest: number;
}

/** Equal lines are one object, and a chart repeats most of its lines. */
const known = new WeakMap<RowLine, LineShape>();

export function lineShape(line: RowLine): LineShape {
  let shape = known.get(line);
  if (shape === undefined) {
    shape = shapeOf(line);
    known.set(line, shape);
  }
  return shape;
}

function shapeOf({ row, bars, pickup }: RowLine): LineShape {
  let isWrittenOut = pickup.length === 0;
  let hasRoll = false;
  let finest = 1;
  const look = (slots: readonly Slot[], within: number): void => {
    const parts = within * Math.max(1, slots.length);
    for (const slot of slots) {
      if (slot.kind === "group") {
        look(slot.slots, parts);
        continue;
      }
      finest = Math.max(finest, parts);
      const { content } = slot;
      if (content.kind === "sameBar") isWrittenOut = false;
      if (content.kind === "stack" && content.rolled !== undefined) hasRoll = true;
    }
  };
  if (!isTextRow(row)) {
    look(pickup, 1);
    for (const { slots } of bars) look(slots, 1);
  }
  return { isPlain: bars.every(isPlain), isWrittenOut, hasRoll, finest };
}

const isPlain = ({ open, close, ending }: BarText): boolean =>
  !open.starts && !open.ends && close?.starts !== true && close?.ends !== true && ending === undefined;
