import { defineConfig } from "vitest/config";

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    include: ["test/**/*.test.ts"],
    testTimeout: 300_000,
    hookTimeout: 120_000,
    coverage: {
      provider: "v8",
      include: ["server/src/**/*.ts"],
      // What needs a document or sound is driven in a browser, in test/page.
      exclude: [
        "server/src/main/**",
        "server/src/page/{bars,cells,click,cursor,desk,draw,elements,engraved,engraver}.ts",
        "server/src/page/{fetched-piano,hand-pictures,hold-place,into-view,letter-scale,live,live-sheet,look}.ts",
        "server/src/page/{page,piano,player,pressed,staff,stage,stand,tempo}.ts",
      ],
      thresholds: { lines: 95 },
      reporter: ["text-summary"],
    },
  },
});
