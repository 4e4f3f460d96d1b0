/** Where the parts of the side view lie on the screen. Distances in CSS pixels, depths down. */
import type { DepthPicture } from "../api/types";
import type { Units } from "./units";

export interface Frame {
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  x: (m: number) => number;
  y: (m: number) => number;
  xTicks: Tick[];
  yTicks: Tick[];
  /** Times that depth is drawn as large as distance. */
  stretch: number;
}

export interface Tick {
  at: number;
  text: string;
}

const NICE = [1, 2, 5, 10, 20, 25, 50, 100];

/** A step that gives at most `most` ticks. */
export function niceStep(span: number, most: number): number {
  return NICE.find((step) => span / step <= most) ?? 200;
}

function roundUp(value: number, step: number): number {
  return Math.ceil(value / step - 1e-9) * step;
}

export function frameOf(picture: DepthPicture, units: Units, width: number, height: number, text: number): Frame {
  const { answer, view } = picture;
  const depth = units.of("depth");
  const distance = units.of("distance");
  const cast = Math.max(answer.cast_m, ...answer.path.map((p) => p.x_m));
  // Below a bottom the band is not drawn, so it needs no room there.
  const floor = Math.max(answer.free_max_depth_m, ...(view.bottom?.depth_m ?? [view.call?.high_m ?? 0]));
  // Ends in whole steps, so that the scale stands still while a control moves a little.
  const yStep = niceStep(floor / depth.factor, 5);
  // The zone is written below the path, where there is one.
  const under = view.zones.length ? answer.max_depth_m / (1 - (3.8 * text) / (height - 5 * text)) : 0;
  const yEnd = roundUp(Math.max(floor * 1.06, under) / depth.factor, yStep / 2) * depth.factor;
  const xStep = niceStep(cast / distance.factor, width < 500 ? 5 : 8);
  const xEnd = Math.max(roundUp(cast / distance.factor, 5), 10) * distance.factor;
  const xStart = Math.min(0, ...answer.path.map((p) => p.x_m));
  const left = text * 2.2;
  const right = width - text * 0.9;
  const bottom = height - text * 2.6;
  const low = text * 2.4;
  const tip = Math.max(answer.tip_m, 0);
  // Air above the water: room for words, and for the rod tip to scale.
  const scale = Math.min((bottom - low) / yEnd, (bottom - text * 1.6) / (yEnd + tip));
  const top = bottom - yEnd * scale;
  const x = (m: number): number => left + text * 0.8 + ((m - xStart) / (xEnd - xStart)) * (right - left - text * 0.8);
  const y = (m: number): number => top + m * scale;
  return {
    width,
    height,
    left,
    right,
    top,
    bottom,
    x,
    y,
    xTicks: ticks(xEnd / distance.factor, xStep).map((v) => ({ at: x(v * distance.factor), text: String(v) })),
    yTicks: ticks(yEnd / depth.factor, yStep).map((v) => ({ at: y(v * depth.factor), text: String(v) })),
    stretch: scale / ((right - left) / (xEnd - xStart)),
  };
}

function ticks(end: number, step: number): number[] {
  const found: number[] = [];
  for (let v = 0; v <= end + 1e-9; v += step) found.push(Math.round(v * 100) / 100);
  return found;
}

export function lineOf(frame: Frame, x: readonly number[], depth: readonly number[]): string {
  let d = "";
  for (let i = 0; i < x.length; i++) {
    d += `${i ? "L" : "M"}${frame.x(x[i] ?? 0).toFixed(1)} ${frame.y(Math.max(depth[i] ?? 0, 0)).toFixed(1)}`;
  }
  return d;
}

/** Area between two curves over the same distances. */
export function areaOf(frame: Frame, x: readonly number[], low: readonly number[], high: readonly number[]): string {
  const there = lineOf(frame, x, low);
  const back = lineOf(frame, [...x].reverse(), [...high].reverse());
  return `${there}L${back.slice(1)}Z`;
}

export type Contact = "free" | "light" | "over";

export interface Run {
  contact: Contact;
  d: string;
}

/** The path in stretches of one kind of contact, each joined to the next. */
export function runsOf(frame: Frame, picture: DepthPicture): Run[] {
  const { path, load_limit } = picture.answer;
  const kind = (load: number): Contact => (load <= 0 ? "free" : load <= load_limit ? "light" : "over");
  const runs: Run[] = [];
  let from = 0;
  for (let i = 1; i <= path.length; i++) {
    const first = path[from];
    const here = path[i];
    if (first && (i === path.length || (here && kind(here.load) !== kind(first.load)))) {
      const part = path.slice(from, Math.min(i + 1, path.length));
      runs.push({ contact: kind(first.load), d: lineOf(frame, part.map((p) => p.x_m), part.map((p) => p.depth_m)) });
      from = i;
    }
  }
  // contact is drawn over what is free
  return [...runs.filter((r) => r.contact === "free"), ...runs.filter((r) => r.contact !== "free")];
}

/** Stalks of grass, evenly spaced on the screen, denser where it grows denser. */
export function stalksOf(frame: Frame, picture: DepthPicture): string {
  const { grass, bottom } = picture.view;
  if (!grass || !bottom) return "";
  const step = (frame.right - frame.left) / 60;
  let d = "";
  for (let i = 0; i < 60; i++) {
    const px = frame.left + (i + 0.5) * step;
    const m = inverse(frame, px);
    const density = at(m, grass.x_m, grass.density);
    const top = at(m, grass.x_m, grass.top_depth_m);
    const floor = at(m, bottom.x_m, bottom.depth_m);
    if (m < 0 || density <= 0 || top >= floor || (density < 0.4 && i % 2)) continue;
    const lean = (i % 3) - 1;
    d += `M${px.toFixed(1)} ${frame.y(floor).toFixed(1)}l${(lean * step * 0.3).toFixed(1)} ${(frame.y(top) - frame.y(floor)).toFixed(1)}`;
  }
  return d;
}

function inverse(frame: Frame, px: number): number {
  const unit = frame.x(1) - frame.x(0);
  return (px - frame.x(0)) / unit;
}

/** Straight between points, level beyond the ends. */
export function at(x: number, xs: readonly number[], ys: readonly number[]): number {
  const last = xs.length - 1;
  if (x <= (xs[0] ?? 0)) return ys[0] ?? 0;
  if (x >= (xs[last] ?? 0)) return ys[last] ?? 0;
  const i = xs.findIndex((v) => v > x);
  const [x0, x1, y0, y1] = [xs[i - 1] ?? 0, xs[i] ?? 0, ys[i - 1] ?? 0, ys[i] ?? 0];
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
}

/** The bottom to both edges of the picture. */
export function groundOf(frame: Frame, picture: DepthPicture): { line: string; area: string } | null {
  const bottom = picture.view.bottom;
  if (!bottom) return null;
  const [x0, x1] = [inverse(frame, frame.left), inverse(frame, frame.right)];
  const inside = bottom.x_m.map((x, i) => [x, bottom.depth_m[i] ?? 0] as const).filter(([x]) => x > x0 && x < x1);
  const xs = [x0, ...inside.map(([x]) => x), x1];
  const ys = xs.map((x) => at(x, bottom.x_m, bottom.depth_m));
  const line = lineOf(frame, xs, ys);
  return { line, area: `${line}L${frame.right} ${frame.bottom}L${frame.left} ${frame.bottom}Z` };
}

/** Grass as an area between its top and the bottom. */
export function grassOf(frame: Frame, picture: DepthPicture): string | null {
  const { grass, bottom } = picture.view;
  if (!grass || !bottom) return null;
  const [x0, x1] = [Math.max(inverse(frame, frame.left), 0), inverse(frame, frame.right)];
  const xs = [x0, ...[...grass.x_m, ...bottom.x_m].filter((x) => x > x0 && x < x1), x1].sort((a, b) => a - b);
  const floor = xs.map((x) => at(x, bottom.x_m, bottom.depth_m));
  return areaOf(frame, xs, xs.map((x, i) => Math.min(at(x, grass.x_m, grass.top_depth_m), floor[i] ?? 0)), floor);
}

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

export function crosses(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}
