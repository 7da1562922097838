import type { CancellationToken } from "vscode-languageserver";
import { reachWish, revoice as revoiceChart } from "../../features/revoice.js";
import { stepVoicing, styleOf, voice } from "../../features/voice.js";
import { handsOf, voicingChoices } from "../../features/voicing-choices.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import type { Session } from "../session.js";
import { answerOf, invalid, notOpen, type Params, type Result, scopeOf } from "./edit-answer.js";

export const voicings = async (
  session: Session,
  params: Params<"plagal/voicings">,
  token: CancellationToken,
): Result<"plagal/voicings"> =>
  (await session.ask(fromDocument(params), token, ({ document }) =>
    voicingChoices(document, scopeOf(document, params)).map(({ rows, name, fills, anew, styles, suits }) => ({
      rows,
      name,
      fills,
      anew,
      styles: styles.map(({ name: style, description }, i) => ({ style, description, suits: i < suits })),
    })),
  )) ?? [];

const rowNames: ReadonlySet<unknown> = new Set(["both", "right", "left"]);

export const voiceRows = async (
  session: Session,
  params: Params<"plagal/voice">,
  token: CancellationToken,
): Result<"plagal/voice"> => {
  const { rows, everyKey, anew } = params;
  if (!rowNames.has(rows)) throw invalid("`rows` is “both”, “right” or “left”.");
  const style = styleOf(params.style);
  if (style === undefined) throw invalid("`style` is the name of a style, as `plagal/voicings` gives it.");
  const wish = {
    hands: handsOf(rows),
    style,
    everyKey: everyKey === true,
    anew: anew === true,
  };
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, voice(document, scopeOf(document, params), wish)),
  );
  return answer ?? notOpen;
};

export const nextVoicing = async (
  session: Session,
  params: Params<"plagal/nextVoicing">,
  token: CancellationToken,
): Result<"plagal/nextVoicing"> => {
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, stepVoicing(document, fromPosition(document.tree, params.position))),
  );
  return answer ?? notOpen;
};

export const revoice = async (
  session: Session,
  params: Params<"plagal/revoice">,
  token: CancellationToken,
): Result<"plagal/revoice"> => {
  const reach = reachWish(params.reach);
  if (reach === undefined) throw invalid("`reach` has `left`, `right` or both, each 5 to 15 white keys.");
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, revoiceChart(document, reach)),
  );
  return answer ?? notOpen;
};
