import { expect, test } from "vitest";
import { Units } from "../src/lib/units";

// The international foot and pound are exact (NIST SP 811): 1 ft = 0.3048 m, 1 yd = 0.9144 m,
// 1 lbf = 4.4482216152605 N, 1 mi/h = 0.44704 m/s, 1 oz = 28.349523125 g.
test("SI is shown in the person's units", () => {
  const us = new Units("us");
  expect(us.text("depth", 3.048)).toBe("10.0 ft");
  expect(us.text("distance", 54.864)).toBe("60 yd");
  expect(us.text("test", 12 * 4.4482216152605)).toBe("12 lb");
  expect(us.text("speed", 4.4704)).toBe("10 mph");
  expect(us.text("mass", 0.028349523125)).toBe("1.00 oz");
  expect(new Units("metric").text("depth", 3.048)).toBe("3.05 m");
});

test("a change has a sign, and nothing is never minus nothing", () => {
  const us = new Units("us");
  expect(us.change("depth", 0.3048)).toBe("+1.0 ft");
  expect(us.change("depth", -0.3048)).toBe("−1.0 ft");
  expect(us.change("depth", -0.001)).toBe("0.0 ft");
  expect(us.band("depth", 3.048, 6.096)).toBe("10.0 to 20.0 ft");
});
