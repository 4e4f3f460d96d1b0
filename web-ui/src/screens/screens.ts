/** Every screen, in the order of the tabs. To add one: a component here, nothing else. */
import type { Component } from "svelte";
import Depth from "./Depth.svelte";
import Kit from "./Kit.svelte";

export interface Screen {
  name: string;
  title: string;
  component: Component;
}

export const SCREENS: readonly Screen[] = [
  { name: "depth", title: "Depth", component: Depth },
  { name: "kit", title: "Kit", component: Kit },
];
