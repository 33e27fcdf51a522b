import { svelte, vitePreprocess } from "@sveltejs/vite-plugin-svelte";
import { resolve } from "node:path";
import { defineConfig } from "vitest/config";
import { KNOWN } from "./vite.shared.ts";

export default defineConfig({
  define: KNOWN,
  plugins: [svelte({ configFile: false, preprocess: vitePreprocess() })],
  resolve: {
    alias: { $shared: resolve(import.meta.dirname, "shared") },
    conditions: ["browser"],
  },
  test: {
    include: ["shared/**/*.test.ts", "home/**/*.test.ts", "lanes/**/*.test.ts"],
    environment: "node",
  },
});
