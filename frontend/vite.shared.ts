import { svelte, vitePreprocess } from "@sveltejs/vite-plugin-svelte";
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import type { UserConfig } from "vite";

const ROOT = import.meta.dirname;

/** Where the built pages go: into the package, so that users need no Node. */
export const STATIC = resolve(ROOT, "../src/nextpair/web/static");

/** What the pages know of the program that they are built for. */
export const KNOWN = { __NEXTPAIR_PROGRAM__: JSON.stringify(`nextpair ${programVersion()}`) };

function programVersion(): string {
  const told = readFileSync(resolve(ROOT, "../src/nextpair/__init__.py"), "utf-8");
  const version = /^__version__ = "([^"]+)"$/m.exec(told)?.[1];
  if (!version) throw new Error("src/nextpair/__init__.py tells no __version__");
  return version;
}

/** What the builds of both pages have in common. */
export function page(name: "home" | "lanes"): UserConfig {
  return {
    root: resolve(ROOT, name),
    base: "./",
    define: KNOWN,
    resolve: { alias: { $shared: resolve(ROOT, "shared") } },
    plugins: [svelte({ configFile: false, preprocess: vitePreprocess(), compilerOptions: { runes: true } })],
    build: {
      outDir: resolve(STATIC, name),
      emptyOutDir: true,
      target: "es2022",
      modulePreload: { polyfill: false },
      assetsInlineLimit: 0,
      reportCompressedSize: false,
    },
    server: { proxy: { "/api": process.env.NEXTPAIR_API ?? "http://127.0.0.1:8707" } },
  };
}
