// npm install && npm run types && npm start [http://127.0.0.1:8650] [visit.json]
import { readFileSync } from "node:fs";
import { Diagnosis, Refused, type Visit } from "./client.ts";

const [address = "http://127.0.0.1:8650", file = "../visits/weak-capacitor.json"] = process.argv.slice(2);
const service = new Diagnosis(address);
const visit = JSON.parse(readFileSync(file, "utf8")) as Visit;
const answer = await service.assess(visit);

for (const hold of answer.holds) console.log(`HOLD ${hold.title}: ${hold.instruction}`);
console.log(`${answer.outcome.state}, ${answer.outcome.run_permission}: ${answer.outcome.summary}`);
for (const cause of answer.causes.slice(0, 3)) console.log(`${Math.round(100 * cause.probability)} % ${cause.title}`);
for (const step of answer.next_steps) console.log(`${step.order}. [power ${step.power}] ${step.text}`);

try {
  await service.assess({ equipment: { refrigerant: "R-999" } });
} catch (error) {
  if (!(error instanceof Refused)) throw error;
  for (const { pointer, detail } of error.problem.errors) console.log(`refused at ${pointer}: ${detail}`);
}
