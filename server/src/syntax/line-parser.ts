import { EmbeddedActionsParser, type IToken } from "chevrotain";
import type { Vocabulary } from "./vocabulary.js";

/** A slot as it stands in the row: a piece, or a group of them. */
export type SlotNode = IToken | GroupNode;
export interface GroupNode {
  readonly open: IToken;
  readonly slots: readonly SlotNode[];
  readonly close: IToken;
}
export interface RowNode {
  readonly from: IToken | undefined;
  readonly pickup: readonly SlotNode[];
  /** Each bar line with the slots after it. */
  readonly bars: readonly { readonly line: IToken; readonly slots: readonly SlotNode[] }[];
}
/** A section to play, its words, and what stood between that is neither. */
export type PlayNode =
  | { readonly name: IToken; readonly words: readonly IToken[] }
  | { readonly stray: IToken };
export interface ReachNode {
  readonly hand: IToken | undefined;
  readonly number: IToken;
}
/** Signs and name of one tone; after a slip (`~`) those of the second. */
export interface ToneNode {
  readonly signs: readonly IToken[];
  readonly name: IToken;
  readonly slip: { readonly signs: readonly IToken[]; readonly name: IToken } | undefined;
}
export interface ChordNode {
  readonly root: IToken;
  readonly colon: IToken | undefined;
  readonly quality: IToken | undefined;
  readonly bass: IToken | undefined;
}

/**
 * The grammar of a line after its first word, and of the inside of a slot. A rule gives `undefined` where the text
 * does not fit; what is left over afterwards is in `errors`.
 */
export class LineParser extends EmbeddedActionsParser {
  private readonly types: Vocabulary;

  constructor(types: Vocabulary, validate: boolean) {
    super([...types.all], { maxLookahead: 2, recoveryEnabled: false, skipValidations: !validate });
    this.types = types;
    this.performSelfAnalysis();
  }

  // A slot is read where it stands, without a rule of its own: a chart has tens of thousands, and nearly all are leaves.
  readonly row = this.RULE("rowRule", (): RowNode => {
    const pickup: SlotNode[] = [];
    const bars: { line: IToken; slots: SlotNode[] }[] = [];
    const from = this.OPTION(() => this.CONSUME(this.types.pieces.from));
    this.MANY(() => {
      pickup.push(
        this.OR<SlotNode>([
          { ALT: () => this.CONSUME(this.types.leaf) },
          { ALT: () => this.SUBRULE(this.group) },
        ]),
      );
    });
    this.MANY1(() => {
      const line = this.CONSUME(this.types.pieces.barLine);
      const slots: SlotNode[] = [];
      this.MANY2(() => {
        slots.push(
          this.OR1<SlotNode>([
            { ALT: () => this.CONSUME1(this.types.leaf) },
            { ALT: () => this.SUBRULE1(this.group) },
          ]),
        );
      });
      bars.push({ line, slots });
    });
    return { from, pickup, bars };
  });

  private readonly group = this.RULE("groupRule", (): GroupNode => {
    const open = this.CONSUME(this.types.pieces.groupOpen);
    const slots: SlotNode[] = [];
    this.MANY(() => {
      slots.push(
        this.OR<SlotNode>([
          { ALT: () => this.CONSUME(this.types.leaf) },
          { ALT: () => this.SUBRULE(this.group) },
        ]),
      );
    });
    return { open, slots, close: this.CONSUME(this.types.pieces.groupClose) };
  });

  /** What `form` and `play` take. */
  readonly playing = this.RULE("playingRule", (): PlayNode[] => {
    const nodes: PlayNode[] = [];
    this.MANY(() => {
      this.OR([
        {
          ALT: () => {
            const words: IToken[] = [];
            const name = this.OR1([
              { ALT: () => this.CONSUME(this.types.pieces.sectionUse) },
              { ALT: () => this.CONSUME(this.types.pieces.quoted) },
            ]);
            this.MANY1(() => {
              words.push(
                this.OR2([
                  { ALT: () => this.CONSUME(this.types.pieces.times) },
                  { ALT: () => this.CONSUME(this.types.pieces.moveIn) },
                  { ALT: () => this.CONSUME(this.types.pieces.moveBy) },
                ]),
              );
            });
            nodes.push({ name, words });
          },
        },
        {
          ALT: () => {
            const stray = this.OR3([
              { ALT: () => this.CONSUME(this.types.pieces.moveWord) },
              { ALT: () => this.CONSUME(this.types.pieces.openQuote) },
              { ALT: () => this.CONSUME1(this.types.pieces.times) },
              { ALT: () => this.CONSUME1(this.types.pieces.moveIn) },
              { ALT: () => this.CONSUME1(this.types.pieces.moveBy) },
            ]);
            nodes.push({ stray });
          },
        },
      ]);
    });
    return nodes;
  });

  /** A line that says one thing: that piece. */
  readonly value = this.RULE(
    "valueRule",
    (): IToken =>
      this.OR([
        { ALT: () => this.CONSUME(this.types.pieces.text) },
        { ALT: () => this.CONSUME(this.types.pieces.sectionName) },
        { ALT: () => this.CONSUME(this.types.pieces.quoted) },
        { ALT: () => this.CONSUME(this.types.pieces.key) },
        { ALT: () => this.CONSUME(this.types.pieces.meter) },
        { ALT: () => this.CONSUME(this.types.pieces.number) },
        { ALT: () => this.CONSUME(this.types.pieces.feelWord) },
        { ALT: () => this.CONSUME(this.types.pieces.degree) },
      ]),
  );

  readonly reach = this.RULE("reachRule", (): ReachNode[] => {
    const nodes: ReachNode[] = [];
    this.AT_LEAST_ONE(() => {
      const hand = this.OPTION(() => this.CONSUME(this.types.pieces.hand));
      nodes.push({ hand, number: this.CONSUME(this.types.pieces.number) });
    });
    return nodes;
  });

  readonly stack = this.RULE("stackRule", (): ToneNode[] => {
    const tones: ToneNode[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: this.types.tokens.plus,
      DEF: () => {
        tones.push(this.SUBRULE(this.tone));
      },
    });
    return tones;
  });

  private readonly tone = this.RULE("toneRule", (): ToneNode => {
    const signs = this.SUBRULE(this.signs);
    const name = this.SUBRULE(this.toneName);
    const slip = this.OPTION(() => {
      this.CONSUME(this.types.tokens.roll);
      return { signs: this.SUBRULE1(this.signs), name: this.SUBRULE1(this.toneName) };
    });
    return { signs, name, slip };
  });

  /** In any order here: another than the usual one gets a hint. */
  private readonly signs = this.RULE("signsRule", (): IToken[] => {
    const signs: IToken[] = [];
    this.MANY(() => {
      signs.push(
        this.OR([
          { ALT: () => this.CONSUME(this.types.tokens.push) },
          { ALT: () => this.CONSUME(this.types.tokens.roll) },
          { ALT: () => this.CONSUME(this.types.tokens.held) },
          { ALT: () => this.CONSUME(this.types.tokens.octaveUp) },
          { ALT: () => this.CONSUME(this.types.tokens.octaveDown) },
          { ALT: () => this.CONSUME(this.types.tokens.counts) },
        ]),
      );
    });
    return signs;
  });

  private readonly toneName = this.RULE(
    "toneNameRule",
    (): IToken =>
      this.OR([
        { ALT: () => this.CONSUME(this.types.tokens.toneNumber) },
        { ALT: () => this.CONSUME(this.types.tokens.pitch) },
      ]),
  );

  readonly chord = this.RULE("chordRule", (): ChordNode => {
    const root = this.SUBRULE(this.root);
    const colon = this.OPTION(() => this.CONSUME(this.types.tokens.colon));
    const quality = this.OPTION1(() => this.CONSUME(this.types.tokens.quality));
    const bass = this.OPTION2(() => this.SUBRULE(this.bass));
    return { root, colon, quality, bass };
  });

  readonly bass = this.RULE("bassRule", (): IToken => {
    this.CONSUME(this.types.tokens.slash);
    return this.SUBRULE(this.root);
  });

  private readonly root = this.RULE(
    "rootRule",
    (): IToken =>
      this.OR([
        { ALT: () => this.CONSUME(this.types.tokens.degree) },
        { ALT: () => this.CONSUME(this.types.tokens.letter) },
      ]),
  );
}

/** What a rule found, and the first piece that does not fit (none, or one at the end of the text). */
export interface Parsed<Node> {
  readonly node: Node | undefined;
  readonly left: IToken | undefined;
  readonly failed: boolean;
}

/** Runs one rule over the pieces. */
export function run<Node>(parser: LineParser, rule: () => Node, input: readonly IToken[]): Parsed<Node> {
  parser.input = input as IToken[];
  const node = rule.call(parser) as Node | undefined;
  const error = parser.errors[0];
  return { node, left: error?.token, failed: error !== undefined };
}
