import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

// `npm run dev` serves the pages with live reload and hands the API on to `leadsman serve`.
export default defineConfig({
  plugins: [svelte()],
  build: { outDir: "dist", target: "es2022", assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  server: { proxy: { "/api": { target: "http://127.0.0.1:8331", changeOrigin: true } } },
});
