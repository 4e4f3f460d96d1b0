/** The setup and the water on the Depth screen, kept on this device. SI. */
import type { DepthAsked, Kit } from "../api/types";
import { recall, remember } from "./settings.svelte";

export type TipWord = "under" | "low" | "usual" | "high";
export type BottomKind = "none" | "level" | "slope";

export interface Setup {
  lure: string;
  line: string;
  /** null is the angler's usual cast. */
  cast_m: number | null;
  tip: TipWord | number;
  speed_m_s: number | null;
  boat_m_s: number;
  wind_m_s: number;
  windFrom_deg: number;
  bottom: BottomKind;
  near_m: number;
  far_m: number;
  grass: boolean;
  grassHeight_m: number;
  temperature_c: number;
}

const KEY = "leadsman.depth";

const START: Setup = {
  lure: "",
  line: "",
  cast_m: null,
  tip: "usual",
  speed_m_s: null,
  boat_m_s: 0,
  wind_m_s: 0,
  windFrom_deg: 0,
  bottom: "level",
  near_m: 3.048,
  far_m: 3.048,
  grass: false,
  grassHeight_m: 0.6096,
  temperature_c: 20,
};

class DepthSetup {
  now = $state<Setup>({ ...START });

  constructor() {
    const kept = recall<Setup>(KEY) ?? {};
    for (const key of Object.keys(START) as (keyof Setup)[]) {
      // a value of another kind is from an older page: leave it
      if (kept[key] !== undefined && (typeof kept[key] === typeof START[key] || START[key] === null || key === "tip")) {
        Object.assign(this.now, { [key]: kept[key] });
      }
    }
  }

  change(part: Partial<Setup>): void {
    Object.assign(this.now, part);
    remember(KEY, this.now);
  }

  /** Names that the kit does not hold are replaced by ones that it does. */
  fit(kit: Kit): void {
    const lures = kit.lures.map((lure) => lure.name);
    const lines = kit.lines.map((line) => line.name);
    const part: Partial<Setup> = {};
    if (!lures.includes(this.now.lure)) {
      const deepest = [...kit.lures].sort((a, b) => (b.rated_depth_m?.[1] ?? 0) - (a.rated_depth_m?.[1] ?? 0));
      part.lure = (deepest[Math.floor(deepest.length / 3)] ?? deepest[0])?.name ?? "";
    }
    if (!lines.includes(this.now.line)) part.line = kit.combos[0]?.line ?? lines[0] ?? "";
    this.change(part);
  }
}

export const depthSetup = new DepthSetup();

/** The question that a setup asks. */
export function asked(setup: Setup, units: "us" | "metric", draws: DepthAsked["draws"]): DepthAsked {
  const far_m = 200;
  const points =
    setup.bottom === "none"
      ? []
      : setup.bottom === "level"
        ? [{ x_m: 0, depth_m: setup.near_m }]
        : [
            // without distances: from the rod to where it lands, wherever the wind puts that
            { x_m: null, depth_m: setup.near_m },
            { x_m: null, depth_m: setup.far_m },
          ];
  const deepest = Math.max(setup.near_m, setup.bottom === "slope" ? setup.far_m : 0);
  return {
    lure: setup.lure,
    line: setup.line,
    cast_m: setup.cast_m,
    tip: setup.tip,
    speed_m_s: setup.speed_m_s,
    boat_m_s: setup.boat_m_s,
    wind: setup.wind_m_s > 0 ? { speed_m_s: setup.wind_m_s, from_deg: setup.windFrom_deg } : null,
    bottom: points,
    grass:
      setup.grass && setup.bottom !== "none"
        ? { top_depth_m: Math.max(deepest - setup.grassHeight_m, 0), density: 0.5, from_m: 0, to_m: far_m }
        : null,
    temperature_c: setup.temperature_c,
    load_limit: 0.12,
    units,
    draws,
  };
}
