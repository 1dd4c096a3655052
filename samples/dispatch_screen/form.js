// A form for a visit, made from GET /v1/readings alone: labels, instructions, units, ranges and words come from the
// service in the language chosen. Nothing of the trade stands in this file.
"use strict";

const TEXTS = {
  en: { send: "Send", yes: "yes", no: "no", over: "OL", empty: "" },
  es: { send: "Enviar", yes: "sí", no: "no", over: "OL", empty: "" },
};
const form = document.getElementById("form");
const language = document.getElementById("language");
const place = document.getElementById("answer");
let rows = [];

function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

function options(pairs, attributes) {
  return element("select", attributes, ...pairs.map(([value, said]) => element("option", { value }, said)));
}

function field(row) {
  const attributes = { id: row.pointer, name: row.pointer };
  const range = row.ranges?.[0];
  if (row.answer === "yes_no") {
    return options([["", ""], ["true", TEXTS[language.value].yes], ["false", TEXTS[language.value].no]], attributes);
  }
  if (row.words) {
    const words = row.words.map((item) => [item.word, item.title]);
    return options(row.answer === "choices" ? words : [["", ""], ...words],
      row.answer === "choices" ? { ...attributes, multiple: "" } : attributes);
  }
  if (row.answer === "number" || row.answer === "whole_number") {
    const limits = { step: row.answer === "number" ? "any" : "1" };
    if (range?.low !== undefined) limits.min = String(range.low);
    if (range?.high !== undefined) limits.max = String(range.high);
    return element("input", { ...attributes, ...limits, type: "number" });
  }
  if (row.answer === "date") return element("input", { ...attributes, type: "date" });
  return element("input", { ...attributes, type: "text", ...(row.maximum_length ? { maxlength: String(row.maximum_length) } : {}) });
}

function labelled(row) {
  const unit = row.ranges?.[0].unit;
  const said = unit && unit !== "1" ? `${row.label} (${unit})` : row.label;
  return element("p", {}, element("label", { for: row.pointer }, said), " ", field(row),
    element("small", {}, ` ${row.instruction}`));
}

function valueOf(row, input) {
  if (row.answer === "choices") {
    const chosen = [...input.selectedOptions].map((item) => item.value);
    return chosen.length ? chosen : undefined;
  }
  if (input.value === "") return undefined;
  if (row.answer === "yes_no") return input.value === "true";
  if (row.answer === "number" || row.answer === "whole_number") return Number(input.value);
  if (row.answer === "resistance" || row.answer === "insulation") {
    const unit = row.answer === "resistance" ? "ohms" : "megohms";
    return input.value.toUpperCase() === "OL" ? { over_limit: true } : { [unit]: Number(input.value) };
  }
  return input.value;
}

function put(visit, pointer, value) {
  const names = pointer.split("/").slice(1);
  let at = visit;
  names.slice(0, -1).forEach((name, index) => {
    at[name] ??= /^\d+$/.test(names[index + 1]) ? [] : {};
    at = at[name];
  });
  at[names.at(-1)] = value;
}

async function build() {
  const answer = await fetch("/v1/readings", { headers: { "Accept-Language": language.value } });
  rows = (await answer.json()).readings.filter((row) => row.answer !== "list" && row.answer !== "numbers");
  document.documentElement.lang = language.value;
  const parts = Map.groupBy ? Map.groupBy(rows, (row) => row.part) : new Map();
  if (!Map.groupBy) for (const row of rows) parts.set(row.part, [...(parts.get(row.part) ?? []), row]);
  form.replaceChildren(
    ...[...parts].map(([part, members]) => element("fieldset", {}, element("legend", {}, part), ...members.map(labelled))),
    element("button", { type: "submit" }, TEXTS[language.value].send),
  );
}

async function send(event) {
  event.preventDefault();
  const visit = {};
  for (const row of rows) {
    const value = valueOf(row, document.getElementById(row.pointer));
    if (value !== undefined) put(visit, row.pointer, value);
  }
  const answer = await fetch("/v1/assessment?size=short", {
    method: "POST", body: JSON.stringify(visit),
    headers: { "Content-Type": "application/json", "Accept-Language": language.value },
  });
  const body = await answer.json();
  if (!answer.ok) {
    place.replaceChildren(...body.errors.map((error) => element("p", { role: "alert" }, `${error.pointer}: ${error.detail}`)));
    return;
  }
  place.replaceChildren(
    ...body.holds.map((hold) => element("p", { class: "hold", role: "alert" }, `${hold.title}. ${hold.instruction}`)),
    element("p", { class: "outcome" }, body.outcome.summary),
    element("ul", {}, ...body.findings.map((item) => element("li", {}, `${item.title}: ${item.detail}`))),
  );
}

language.addEventListener("change", build);
form.addEventListener("submit", send);
build();
