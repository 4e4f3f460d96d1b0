import { expect, test } from "vitest";
import { Latest } from "../src/api/latest";

test("while one answer is on its way only the newest question waits", async () => {
  const asked: number[] = [];
  const answered: number[] = [];
  const waiting: (() => void)[] = [];
  const latest = new Latest<number, number>(
    (question) => {
      asked.push(question);
      return new Promise((resolve) => waiting.push(() => resolve(question * 10)));
    },
    (answer) => answered.push(answer),
    () => undefined,
  );
  for (const question of [1, 2, 3, 4]) latest.put(question);
  expect(asked).toEqual([1]);
  waiting.shift()?.();
  await Promise.resolve();
  await Promise.resolve();
  await Promise.resolve();
  expect(asked).toEqual([1, 4]);
  waiting.shift()?.();
  await new Promise((resolve) => setTimeout(resolve));
  expect(answered).toEqual([10, 40]);
});

test("a failure that a newer question follows is not told", async () => {
  const told: unknown[] = [];
  const answered: number[] = [];
  const latest = new Latest<number, number>(
    (question) => (question === 1 ? Promise.reject(new Error("gone")) : Promise.resolve(question)),
    (answer) => answered.push(answer),
    (error) => told.push(error),
  );
  latest.put(1);
  latest.put(2);
  await new Promise((resolve) => setTimeout(resolve));
  expect(told).toEqual([]);
  expect(answered).toEqual([2]);
  latest.put(1);
  await new Promise((resolve) => setTimeout(resolve));
  expect(told).toHaveLength(1);
});
