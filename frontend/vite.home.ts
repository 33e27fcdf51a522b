import { defineConfig } from "vite";
import { page } from "./vite.shared.ts";

export default defineConfig(page("home"));
