import { andList } from "../text/and-list.js";

type Hand = "left" | "right";

/** A change that a problem of the hands offers, as a player would say it. Notes are names for people. */
export type Way =
  | { readonly how: "roll" }
  | { readonly how: "give"; readonly notes: readonly string[]; readonly to: Hand }
  | { readonly how: "leave-out"; readonly notes: readonly string[]; readonly hand: Hand }
  | { readonly how: "move"; readonly notes: readonly string[]; readonly to: "up" | "down" }
  | { readonly how: "move-hand"; readonly hand: Hand; readonly to: "up" | "down" }
  | { readonly how: "share"; readonly left: readonly string[]; readonly right: readonly string[] };

/** A way as it stands in a menu: `Roll it (~)`. */
export function wayTitle(way: Way): string {
  switch (way.how) {
    case "roll":
      return "Roll it (~)";
    case "give":
      return `Give ${andList(way.notes)} to the ${way.to} hand`;
    case "leave-out":
      return `Leave ${andList(way.notes)} out in the ${way.hand} hand`;
    case "move":
      return `Move ${andList(way.notes)} ${way.to} an octave`;
    case "move-hand":
      return `Move the ${way.hand} hand ${way.to} an octave`;
    case "share":
      return `Play ${andList(way.left)} with the left hand and ${andList(way.right)} with the right`;
  }
}

/** The sentence that offers ways, with a space before it: ` Roll it (~), or give E3 to the right hand.` */
export function waysWords(ways: readonly Way[], otherwise: string): string {
  const titles = ways.length === 0 ? [otherwise] : ways.map(wayTitle);
  const [first = "", ...others] = titles.map((title, i) =>
    i === 0 ? title : title.charAt(0).toLowerCase() + title.slice(1),
  );
  const last = others.pop();
  return ` ${[first, ...others].join(", ")}${last === undefined ? "" : `, or ${last}`}.`;
}

/** The reach that a hand is judged by, and whose it is. */
export interface ReachFacts {
  /** In white keys: 8 is an octave. */
  readonly reach: number;
  /** As an interval: `a ninth`. */
  readonly reachName: string;
  /** The user's setting or option, the chart's `reach` line, or the one that is taken where nobody says. */
  readonly reachBy: "setting" | "chart" | "nobody";
}

/** Whose reach it is, as the subject of a sentence. */
export function reachWords({ reachName, reachBy }: ReachFacts): string {
  switch (reachBy) {
    case "setting":
      return `the reach of ${reachName} that you set`;
    case "chart":
      return `the chart's reach of ${reachName}`;
    case "nobody":
      return `a reach of ${reachName} (taken where nobody says)`;
  }
}

/** Millimetres with one decimal at most. */
export const millimetres = (mm: number): string => `${Math.round(mm * 10) / 10}`;

/** Why a hand can't hold a grip: facts with ready names. Keys stand from the lowest up, with the fingers on them. */
export type GripReason =
  /** The two outer keys. */
  | ({ readonly reason: "too-wide" } & Span)
  /** Two fingers would have to stand further apart than they can. */
  | ({ readonly reason: "span" } & Span)
  /** Six keys, and the two at the thumb's end are no neighbours of one colour. */
  | {
      readonly reason: "no-thumb-pair";
      readonly keys: readonly [lower: string, upper: string];
      readonly fingers: readonly number[];
    };

interface Span {
  readonly keys: readonly [lower: string, upper: string];
  readonly fingers: readonly number[];
  /** `a tenth`. */
  readonly interval: string;
  readonly mm: number;
  readonly limit: number;
}

/** The reason as a sentence without its full stop. `where` is "" or stands after the verb: ` when it is played in D♭`. */
export function reasonWords(why: GripReason, hand: Hand, reach: ReachFacts, where: string): string {
  const [lower, upper] = why.keys;
  switch (why.reason) {
    case "too-wide":
      return `The ${hand} hand would have to reach from ${lower} to ${upper}${where}: ${why.interval}, ${millimetres(why.mm)} mm, and ${reachWords(reach)} holds ${millimetres(why.limit)}`;
    case "span":
      return `Fingers ${why.fingers.join(" and ")} of the ${hand} hand would have to stand ${millimetres(why.mm)} mm apart${where}, from ${lower} to ${upper}: ${why.interval}, and with ${reachWords(reach)} they stand ${millimetres(why.limit)} apart at most`;
    case "no-thumb-pair":
      return `Six keys need two of them under the thumb, and ${lower} and ${upper} are no neighbours of one colour${where}, so the thumb of the ${hand} hand can't hold both`;
  }
}

/** The same in short, for where the hand and the problem are known: `from D♭2 to F3 is a tenth of 225.6 mm, and …`. */
export function shortReason(why: GripReason, reachName: string): string {
  const [lower, upper] = why.keys;
  switch (why.reason) {
    case "too-wide":
      return `from ${lower} to ${upper} is ${why.interval} of ${millimetres(why.mm)} mm, and a reach of ${reachName} holds ${millimetres(why.limit)}`;
    case "span":
      return `from ${lower} to ${upper} its fingers ${why.fingers.join(" and ")} would have to stand ${millimetres(why.mm)} mm apart, and with a reach of ${reachName} they stand ${millimetres(why.limit)} apart at most`;
    case "no-thumb-pair":
      return `six keys need two of them under the thumb, and ${lower} and ${upper} are no neighbours of one colour`;
  }
}
