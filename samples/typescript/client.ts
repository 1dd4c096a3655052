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
    const response = await fetch(`${this.address}/v1/assessment`, {
      method: "POST",
      headers: this.#headers,
      body: JSON.stringify(visit),
    });
    if (!response.ok) throw new Refused((await response.json()) as Problem);
    return (await response.json()) as Assessment;
  }
}
