// A small typed client of the service. The types come from the contract: npm run types.
import type { components } from "./contract.ts";

export type Visit = components["schemas"]["Visit"];
export type Assessment = components["schemas"]["AssessmentAnswer"];
export type Problem = components["schemas"]["Problem"];

/** The service refused a request; `problem.errors` points at what is wrong in it. */
export class Refused extends Error {
  constructor(readonly problem: Problem) {
    super(problem.detail);
  }
}

export class Diagnosis {
  readonly #headers: Record<string, string>;

  constructor(readonly address: string, key?: string, language = "en") {
    this.#headers = { "Content-Type": "application/json", "Accept-Language": language };
    if (key !== undefined) this.#headers["X-Api-Key"] = key;
  }

  /** Judge a visit document; rejects with Refused. */
  async assess(visit: Visit): Promise<Assessment> {
    const response = await this.#post("/v1/assessment", JSON.stringify(visit));
    if (!response.ok) throw new Refused((await response.json()) as Problem);
    return (await response.json()) as Assessment;
  }

  // A full or stopping instance says when to try again; the service keeps nothing, so that is safe.
  async #post(path: string, body: string, tries = 4): Promise<Response> {
    const response = await fetch(this.address + path, { method: "POST", headers: this.#headers, body });
    if (response.status !== 503 || tries === 1) return response;
    const seconds = Number(response.headers.get("Retry-After") ?? "1");
    await new Promise((resolve) => setTimeout(resolve, 1000 * seconds));
    return this.#post(path, body, tries - 1);
  }
}
