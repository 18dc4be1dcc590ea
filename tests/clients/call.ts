// Asks a live service through the TypeScript client that was generated from its document.
// Usage: node call.js SERVICE CASE

import { readFileSync } from "node:fs";
import { isDeepStrictEqual } from "node:util";
import { CalculationsApi, ReferenceDataApi } from "./apis/index";
import { BlendRequestFromJSON, BlendRequestToJSON } from "./models/index";
import { Configuration, ResponseError } from "./runtime";

function demand(holds: boolean, words: string): void {
  if (!holds) {
    throw new Error(words);
  }
}

async function main(service: string, path: string): Promise<void> {
  const wanted: unknown = JSON.parse(readFileSync(path, "utf8"));
  const configuration = new Configuration({ basePath: service });
  const calculations = new CalculationsApi(configuration);

  const request = BlendRequestFromJSON(wanted);
  // The client's own types lose nothing of the request; what they leave undefined is not sent.
  const sent: unknown = JSON.parse(JSON.stringify(BlendRequestToJSON(request)));
  demand(isDeepStrictEqual(sent, wanted), "the request changed on its way through the generated types");
  const answer = await calculations.solveBlend({ blendRequest: request });
  demand(answer.status === "solved", `the status is ${answer.status}`);
  const weighings = answer.weighings ?? [];
  demand(weighings.length > 0, "nothing is weighed");
  demand(weighings.every((weighing) => weighing.massG > 0), "a weighing of nothing");

  const page = await new ReferenceDataApi(configuration).salts({ search: "magnesium sulfate" });
  demand(page.salts.some((salt) => salt.formula === "MgSO4·7H2O"), "the heptahydrate is not found");

  const refusal = await calculations.solveBlend({ blendRequest: { ...request, volumeL: -20 } }).then(
    () => undefined,
    (error: unknown) => error,
  );
  demand(refusal instanceof ResponseError, "a negative volume was accepted");
  const response = (refusal as ResponseError).response;
  const problem = (await response.json()) as { faults: { pointer: string }[] };
  demand(response.status === 422, `the refusal has status ${response.status}`);
  demand(isDeepStrictEqual(problem.faults.map((fault) => fault.pointer), ["/volume_l"]), "the fault is not named");
}

main(process.argv[2] ?? "", process.argv[3] ?? "").catch((error: unknown) => {
  console.error(error);
  process.exit(1);
});
