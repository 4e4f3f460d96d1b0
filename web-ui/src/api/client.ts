/** The one place that talks to the server. */
import type { DepthAsked, DepthPicture, Hello, Kit, Levers, ObservationAsked, Observed, Problem, Tuned } from "./types";

/** Why a request was not answered, in words a person can act on. */
export class ApiError extends Error {
  constructor(
    readonly problem: Problem,
    readonly status: number,
  ) {
    super(problem.problem);
  }
}

const UNREACHABLE: Problem = {
  problem: "Leadsman does not answer.",
  remedy: "Look whether it still runs on the laptop and whether this device is on the same network.",
};

/** Any failure as a problem to show. */
export function problemOf(error: unknown): Problem {
  return error instanceof ApiError ? error.problem : { problem: "The page made a mistake.", where: String(error) };
}

async function send(path: string, body: unknown, signal?: AbortSignal): Promise<Response> {
  const asked: RequestInit = { signal: signal ?? null, credentials: "same-origin" };
  if (body !== undefined) {
    asked.method = "POST";
    asked.headers = { "content-type": "application/json" };
    asked.body = JSON.stringify(body);
  }
  let response: Response;
  try {
    response = await fetch(path, asked);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new ApiError(UNREACHABLE, 0);
  }
  if (response.ok) return response;
  let problem: Problem = UNREACHABLE;
  try {
    problem = (await response.json()) as Problem;
  } catch {
    // not our server's answer: the words above stand
  }
  throw new ApiError(problem, response.status);
}

async function ask<T>(path: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  return (await (await send(path, body, signal)).json()) as T;
}

/** Long work: lines of JSON, each a step, the last an answer or a problem. */
async function follow<T>(path: string, body: unknown, onStep: (doing: string) => void, signal?: AbortSignal): Promise<T> {
  const response = await send(path, body, signal);
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
  let held = "";
  while (reader) {
    const { value, done } = await reader.read();
    held += value ?? "";
    const lines = held.split("\n");
    held = lines.pop() ?? "";
    for (const line of lines.filter(Boolean)) {
      const told = JSON.parse(line) as { step?: { doing: string }; answer?: T; problem?: Problem };
      if (told.step) onStep(told.step.doing);
      if (told.problem) throw new ApiError(told.problem, 422);
      if (told.answer !== undefined) return told.answer;
    }
    if (done) break;
  }
  throw new ApiError(UNREACHABLE, 0);
}

export const api = {
  hello: () => ask<Hello>("/api/hello"),
  pair: (code: string) => ask<Hello>("/api/pair", { code }),
  kit: () => ask<Kit>("/api/kit"),
  startKit: () => ask<Kit>("/api/kit/start", {}),
  depth: (asked: DepthAsked) => ask<DepthPicture>("/api/depth", asked),
  levers: (asked: DepthAsked) => ask<Levers>("/api/levers", asked),
  observe: (asked: ObservationAsked) => ask<Observed>("/api/observations", asked),
  tune: (units: "us" | "metric", onStep: (doing: string) => void, signal?: AbortSignal) =>
    follow<Tuned>("/api/tune", { units }, onStep, signal),
};
