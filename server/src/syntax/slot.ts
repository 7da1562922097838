import type { TokenType } from "chevrotain";
import { againInChords, readBassAlone, readChord, unknownShape } from "./chord-slot.js";
import type { SlotReading, Tools } from "./slot-reading.js";
import { readStack } from "./stack-slot.js";
import type { SlotContent } from "./tree.js";

const fixed = (content: SlotContent): SlotReading => ({ content, problems: [] });
const hold = fixed({ kind: "hold" });
const again = fixed({ kind: "again" });
const sameBar = fixed({ kind: "sameBar" });
const rest = fixed({ kind: "rest" });
const noChord = fixed({ kind: "noChord" });

/** The reading of a piece that fills a slot of a row. */
export function readSlot(piece: TokenType, text: string, isChordRow: boolean, tools: Tools): SlotReading {
  const { pieces } = tools.types;
  switch (piece) {
    case pieces.hold:
      return hold;
    case pieces.again:
      return isChordRow ? againInChords(text) : again;
    case pieces.sameBar:
      return sameBar;
    case pieces.rest:
      return rest;
    case pieces.noChord:
      return isChordRow ? noChord : rest;
    case pieces.chord:
      return readChord(text, tools);
    case pieces.bassAlone:
      return readBassAlone(text, tools);
    case pieces.stack:
      return readStack(text, tools);
    default:
      return unknownShape(text, tools);
  }
}
