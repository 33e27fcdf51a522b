import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import { page } from "./vite.shared.ts";

const lanes = page("lanes");

export default defineConfig({
  ...lanes,
  plugins: [
    ...(lanes.plugins ?? []),
    VitePWA({
      strategies: "generateSW",
      registerType: "prompt",
      injectRegister: null,
      includeManifestIcons: false,
      manifest: {
        name: "nextpair at the lanes",
        short_name: "nextpair",
        start_url: "./",
        scope: "./",
        display: "standalone",
        background_color: "#fbf7ee",
        theme_color: "#14233b",
        icons: [
          { src: "icon-192.png", sizes: "192x192", type: "image/png" },
          { src: "icon-512.png", sizes: "512x512", type: "image/png" },
          { src: "icon-mask-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
        ],
      },
      workbox: {
        globPatterns: ["**/*.{html,js,css,svg,webmanifest}"],
        navigateFallback: "index.html",
        navigateFallbackDenylist: [/\/api\//, /\/open\//],
        cleanupOutdatedCaches: true,
        sourcemap: false,
      },
    }),
  ],
});
