// Posts a visit and shows the answer in the order that keeps people safe: holds, verdict, findings, causes, next
// reading, steps. Texts of the answer go into text nodes only.
"use strict";

const SAMPLES = ["weak-capacitor", "grounded-winding", "hot-shell", "low-charge-valve", "low-charge-orifice", "sound-unit"];
const STATES = { unsafe: "Unsafe", fault: "Fault found", sound: "Sound", undecided: "Not decided yet" };
const PERMISSIONS = { keep_off: "Keep it off", may_run_watched: "It may run while somebody watches it", may_run: "It may run" };
const VERDICTS = { fail: "failed", review: "doubtful", undecided: "undecided" };
const form = document.getElementById("posted");
const sample = document.getElementById("sample");
const visit = document.getElementById("document");
const place = document.getElementById("answer");

function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

function section(title, children, list = "div") {
  return children.length ? [element("h2", {}, title), element(list, {}, ...children)] : [];
}

function hold(item) {
  return element("div", { class: "hold", role: "alert" }, element("strong", {}, item.title), item.instruction,
    element("div", {}, `Clears when: ${item.clears_when}`));
}

function verdict(outcome) {
  const { low, high } = outcome.minutes;
  const facts = [["When", `${outcome.urgency.replaceAll("_", " ")}: ${outcome.urgency_reason}`],
    ["Bring", outcome.parts.map((part) => part.rating ? `${part.title} (${part.rating})` : part.title).join("; ")],
    ["Certificates", outcome.certificates.join(", ")], ["Minutes of work", low < high ? `${low} to ${high}` : `${low}`]];
  return [element("p", { class: "outcome" }, `${STATES[outcome.state]}. ${PERMISSIONS[outcome.run_permission]}.`),
    element("p", {}, outcome.summary),
    element("dl", {}, ...facts.filter(([, said]) => said).flatMap(([name, said]) => [element("dt", {}, name), element("dd", {}, said)]))];
}

function finding(item) {
  return element("li", {}, element("span", { class: "state" }, VERDICTS[item.state] ?? item.state),
    element("strong", {}, item.title), `. ${item.detail}`);
}

function cause(item) {
  const percent = item.probability > 0.99 ? "over 99" : Math.round(100 * item.probability);
  return element("div", { class: "cause" }, element("span", { class: "share" }, `${percent} %`),
    element("meter", { min: "0", max: "1", value: String(item.probability), "aria-label": `${item.title}: ${percent} %` }),
    element("span", {}, item.title));
}

function reading(item) {
  return element("li", {}, element("strong", {}, item.title), `: ${item.why} (${item.minutes} min)`);
}

function step(item) {
  const power = { off: "power off", on: "power on", either: "power on or off" }[item.power];
  return element("li", {}, element("strong", {}, item.title), " ", element("span", { class: "power" }, power), ` ${item.text}`);
}

function show(answer) {
  const told = answer.findings.filter((item) => item.state !== "pass" && item.state !== "not_applicable");
  place.replaceChildren(
    ...section("Stop: read this first", answer.holds.map(hold)),
    ...verdict(answer.outcome),
    ...section("Findings", told.map(finding), "ul"),
    ...section("Causes", answer.causes.filter((item) => item.probability >= 0.01).map(cause)),
    ...section("Next reading", answer.next_readings.slice(0, 3).map(reading), "ul"),
    ...section("Next steps", answer.next_steps.map(step), "ol"),
    ...section("Take care", answer.cautions.map((item) => element("li", {}, item.text)), "ul"),
  );
}

function refused(problem) {
  const lines = problem.errors.map((error) => element("li", {}, `${error.pointer || "document"}: ${error.detail}`));
  place.replaceChildren(element("div", { class: "refused", role: "alert" },
    element("strong", {}, problem.title), ...(lines.length ? [element("ul", {}, ...lines)] : [element("p", {}, problem.detail)])));
}

async function judge(event) {
  event.preventDefault();
  const response = await fetch("/v1/assessment", {
    method: "POST", headers: { "Content-Type": "application/json" }, body: visit.value,
  });
  (response.ok ? show : refused)(await response.json());
}

async function load() {
  const response = await fetch(`visits/${sample.value}.json`);
  visit.value = await response.text();
}

for (const name of SAMPLES) sample.append(element("option", { value: name }, name.replaceAll("-", " ")));
sample.addEventListener("change", load);
form.addEventListener("submit", judge);
load();
