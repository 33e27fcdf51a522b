import { svelte, vitePreprocess } from "@sveltejs/vite-plugin-svelte";
import { resolve } from "node:path";
import { defineConfig } from "vite";
import { STATIC, page } from "./vite.shared.ts";

/** The one script of the single-file page: logging where scripts run. It brings its styles with it. */
const lanes = page("lanes");

export default defineConfig({
  ...lanes,
  publicDir: false,
  plugins: [svelte({ configFile: false, preprocess: vitePreprocess(), compilerOptions: { css: "injected" } })],
  build: {
    ...lanes.build,
    outDir: resolve(STATIC, "single"),
    lib: {
      entry: resolve(import.meta.dirname, "lanes/src/single.ts"),
      formats: ["iife"],
      name: "nextpairAtTheLanes",
      fileName: () => "single.js",
    },
  },
});
