/** A change of a text as the editor tells of it: all of one step count from the text before that step. */
export interface TextChange {
  readonly rangeOffset: number;
  readonly rangeLength: number;
  readonly text: string;
}

/** What a step changed, and the version that it made. */
export interface TextStep {
  readonly version: number;
  readonly changes: readonly TextChange[];
}

/**
 * Where what stood at an offset (UTF-16) of a version stands after later steps: it moves with the text before it; where
 * it was taken out itself, the place where it was.
 */
export function movedOffset(offset: number, version: number, steps: readonly TextStep[]): number {
  let moved = offset;
  for (const step of steps) {
    if (step.version <= version) continue;
    const before = moved;
    for (const { rangeOffset, rangeLength, text } of step.changes) {
      if (rangeOffset + rangeLength <= before) moved += text.length - rangeLength;
      else if (rangeOffset < before) moved += rangeOffset - before;
    }
  }
  return moved;
}
