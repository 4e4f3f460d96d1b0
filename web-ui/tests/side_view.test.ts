import { expect, test } from "vitest";
import type { DepthPicture } from "../src/api/types";
import { at, frameOf, niceStep, runsOf } from "../src/lib/side_view";
import { Units } from "../src/lib/units";

const load = [0, 0, 0.05, 0.3, 0.3, 0.05, 0];
const picture = {
  answer: {
    cast_m: 45.72,
    tip_m: 0.6,
    max_depth_m: 3,
    free_max_depth_m: 3.1,
    load_limit: 0.12,
    path: load.map((value, i) => ({ t_s: i, x_m: 45.72 - 7 * i, depth_m: Math.min(i, 3), pull_n: 4, load: value })),
  },
  view: { bottom: { x_m: [0, 1], depth_m: [3, 3] }, grass: null, call: null, zones: [{ near_x_m: 5, far_x_m: 9, length_m: 4 }] },
} as unknown as DepthPicture;

test("depth runs down, distance to the right, the tip keeps its scale", () => {
  const frame = frameOf(picture, new Units("us"), 720, 360, 14);
  expect(frame.y(3)).toBeGreaterThan(frame.y(0));
  expect(frame.x(40)).toBeGreaterThan(frame.x(0));
  expect(frame.y(-0.6)).toBeGreaterThanOrEqual(0);
  expect(frame.y(3.1)).toBeLessThanOrEqual(frame.bottom);
  // room for the zone and its number below the bottom
  expect(frame.bottom - frame.y(3)).toBeGreaterThan(3.3 * 14);
  expect(frame.x(45.72)).toBeLessThanOrEqual(frame.right + 0.01);
});

test("the path falls into stretches of one contact, none lost", () => {
  const frame = frameOf(picture, new Units("us"), 720, 360, 14);
  const runs = runsOf(frame, picture);
  expect(runs.map((run) => run.contact).sort()).toEqual(["free", "free", "light", "light", "over"]);
  const points = runs.flatMap((run) => run.d.match(/[ML]/g) ?? []);
  expect(points.length).toBe(load.length + runs.length - 1);
});

test("between points it is straight, beyond them level", () => {
  expect(at(5, [0, 10], [1, 3])).toBeCloseTo(2);
  expect(at(-5, [0, 10], [1, 3])).toBe(1);
  expect(at(50, [0, 10], [1, 3])).toBe(3);
});

test("ticks are few and round", () => {
  expect(niceStep(18, 5)).toBe(5);
  expect(niceStep(60, 8)).toBe(10);
});
