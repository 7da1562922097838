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
      exclude: ["server/src/main/**", "server/src/page/{click,desk,draw,page,piano,player}.ts"],
      thresholds: { lines: 95 },
      reporter: ["text-summary"],
    },
  },
});
