import type {
  CancellationToken,
  CompletionItem,
  CompletionItemKind,
  CompletionList,
  CompletionParams,
} from "vscode-languageserver";
import { type Completion, completion } from "../../features/completion.js";
import { plainText } from "../../features/snippet.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import type { Session } from "../session.js";
import { toMarkup, toRange } from "../to-protocol.js";
import { pathTo } from "../uri.js";

/** LSP 3.18, CompletionItemKind, by what an editor's icon for it comes nearest to. */
const kinds: Readonly<Record<Completion["kind"], CompletionItemKind>> = {
  chord: 21,
  quality: 20,
  tone: 12,
  section: 9,
  key: 13,
  word: 14,
  row: 5,
  value: 11,
  snippet: 15,
};

/** What was offered last: documentation is made for the item that somebody looks at. */
interface Offered {
  readonly id: number;
  readonly items: readonly Completion[];
}
const offers = new WeakMap<Session, Offered>();
let count = 0;

interface ItemData {
  readonly id: number;
  readonly index: number;
}

export const completions = (
  session: Session,
  params: CompletionParams,
  token: CancellationToken,
): Promise<CompletionList | undefined> =>
  session.ask(fromDocument(params), token, async ({ document }) => {
    const offset = fromPosition(document.tree, params.position);
    const isUse = document.tree.lines[params.position.line]?.statement.kind === "use";
    const paths = isUse ? await otherCharts(session, document.path) : [];
    const { items, isIncomplete } = completion(document, offset, { paths });
    const id = ++count;
    offers.set(session, { id, items });
    const { snippets } = session.client;
    return {
      isIncomplete,
      items: items.map((it, index): CompletionItem => {
        const isSnippet = it.isSnippet === true && snippets;
        return {
          label: it.label,
          kind: kinds[it.kind],
          sortText: it.sort,
          ...(it.detail === undefined ? {} : { detail: it.detail }),
          ...(it.filter === undefined ? {} : { filterText: it.filter }),
          ...(isSnippet ? { insertTextFormat: 2 } : {}),
          textEdit: {
            range: toRange(document.tree.starts, it.span),
            newText: it.isSnippet === true && !snippets ? plainText(it.text) : it.text,
          },
          ...(it.documentation === undefined ? {} : { data: { id, index } satisfies ItemData }),
        };
      }),
    };
  });

/** The other charts of the workspace by the paths that lead to them from this one. */
async function otherCharts(session: Session, from: string): Promise<readonly string[]> {
  const charts = (await session.charts()).all();
  return charts
    .filter(({ path }) => path !== from)
    .map(({ path }) => pathTo(from, path))
    .filter((path) => path !== undefined);
}

/** The item with its documentation; as it came where other items have been offered since. */
export function documentedItem(session: Session, item: CompletionItem): CompletionItem {
  const { id, index } = (item?.data ?? {}) as Partial<ItemData>;
  const offered = offers.get(session);
  const documentation = offered?.id === id ? offered?.items[index ?? -1]?.documentation : undefined;
  if (documentation === undefined) return item;
  const text = typeof documentation === "function" ? documentation() : documentation;
  return { ...item, documentation: toMarkup(text, session.client.documentationInMarkdown) };
}
