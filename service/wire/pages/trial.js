// "Try it": an operation's parameters and body, filled from an example, sent to the service that served this page.
import { element, pretty } from "./element.js";
import { resolve } from "./schema.js";

let count = 0;

function labelled(text, control) {
  control.id = `trial-${(count += 1)}`;
  return element("label", { for: control.id }, text, control);
}

function parameterInputs(contract, operation) {
  return (operation.parameters ?? []).map((node) => resolve(contract, node))
    .filter((parameter) => parameter.in !== "header")
    .map((parameter) => {
      const words = parameter.schema.enum;
      const control = words
        ? element("select", {}, ...words.map((word) => element("option", {}, word)))
        : element("input", { value: parameter.in === "path" ? parameter.example : "", placeholder: parameter.example });
      return { parameter, control, label: labelled(parameter.name, control) };
    });
}

function address(path, inputs) {
  const query = new URLSearchParams();
  let filled = path;
  for (const { parameter, control } of inputs) {
    if (parameter.in === "path") filled = filled.replace(`{${parameter.name}}`, encodeURIComponent(control.value));
    else if (control.value) query.set(parameter.name, control.value);
  }
  return query.size ? `${filled}?${query}` : filled;
}

function bodyInput(contract, operation) {
  const content = operation.requestBody?.content;
  if (!content) return null;
  const [media, { examples }] = Object.entries(content)[0];
  const text = element("textarea", { spellcheck: "false" });
  const names = Object.keys(examples);
  const choice = element("select", {}, ...names.map((name) => element("option", { value: name }, examples[name].summary)));
  const fill = () => { text.value = pretty(examples[choice.value].value); };
  choice.addEventListener("change", fill);
  fill();
  return { media, text, parts: [labelled("Example", choice), labelled("Body", text)] };
}

function answerMedia(operation) {
  return Object.keys(operation.responses["200"].content);
}

async function send(path, method, settings, body, accept) {
  const headers = { Accept: accept };
  if (settings.key.value) headers["X-Api-Key"] = settings.key.value;
  if (settings.language.value) headers["Accept-Language"] = settings.language.value;
  if (body) headers["Content-Type"] = body.media;
  const started = performance.now();
  const response = await fetch(path, { method, headers, body: body?.text.value, cache: "no-store" });
  const text = await response.text();
  return { response, text, milliseconds: Math.round(performance.now() - started) };
}

function shown({ response, text, milliseconds }) {
  const type = response.headers.get("Content-Type") ?? "";
  const body = type.includes("json") && !type.includes("ndjson") ? pretty(JSON.parse(text)) : text;
  const line = `${response.status} ${response.statusText}, ${milliseconds} ms, ${type}`;
  return [element("p", { class: response.ok ? "good" : "bad" }, line), element("pre", { tabindex: "0" }, body)];
}

export function trial(contract, path, method, operation, settings) {
  const inputs = parameterInputs(contract, operation);
  const body = bodyInput(contract, operation);
  const media = answerMedia(operation);
  const accept = element("select", {}, ...media.map((name) => element("option", {}, name)));
  const result = element("div", { role: "status", "aria-live": "polite" });
  const form = element("form", { class: "trial", "aria-label": `Try ${operation.summary}` },
    ...inputs.map((input) => input.label), ...(body?.parts ?? []),
    ...(media.length > 1 ? [labelled("Answer as", accept)] : []),
    element("button", { type: "submit" }, "Send"), result);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      result.replaceChildren(...shown(await send(address(path, inputs), method, settings, body, accept.value)));
    } catch (error) {
      result.replaceChildren(element("p", { class: "bad" }, `No answer: ${error.message}`));
    }
  });
  return form;
}
