// The reference, made from /openapi.json of the service that served this page.
import { element, pretty, prose } from "./element.js";
import { resolve, tree } from "./schema.js";
import { trial } from "./trial.js";

const main = document.getElementById("content");
const contents = document.getElementById("contents");

function settingsBox() {
  const key = element("input", { id: "key", type: "password", autocomplete: "off" });
  const language = element("select", { id: "language" },
    element("option", { value: "" }, "Browser default"), element("option", { value: "en" }, "English"), element("option", { value: "es" }, "español"));
  const box = element("form", { class: "settings", "aria-label": "For every request of this page" },
    element("label", { for: "key" }, "API key, if required (not stored)", key),
    element("label", { for: "language" }, "Language of the answers", language));
  box.addEventListener("submit", (event) => event.preventDefault());
  return { box, key, language };
}

function schemaOf(contract, content) {
  const schema = resolve(contract, Object.values(content)[0].schema);
  return schema?.properties ? schema : null;
}

function parameters(contract, operation) {
  const rows = (operation.parameters ?? []).map((node) => resolve(contract, node)).flatMap((item) => [
    element("dt", {}, element("code", {}, item.name), " ", element("span", { class: "kind" }, `in the ${item.in}`)),
    element("dd", {}, item.description),
  ]);
  return rows.length ? [element("details", {}, element("summary", {}, "Parameters"), element("dl", { class: "members" }, ...rows))] : [];
}

function problems(contract, operation) {
  const box = element("details", {}, element("summary", {}, "Problems"));
  for (const [status, node] of Object.entries(operation.responses)) {
    const response = resolve(contract, node);
    if (status === "200") continue;
    const examples = Object.values(response.content ?? {}).flatMap((media) => Object.values(media.examples ?? {}));
    box.append(element("h4", {}, `${status}: ${response.description}`),
      ...examples.map((item) => element("details", {}, element("summary", {}, item.summary), element("pre", { tabindex: "0" }, pretty(item.value)))));
  }
  return box;
}

function answers(contract, operation) {
  const content = operation.responses["200"].content;
  const schema = schemaOf(contract, content);
  const examples = Object.values(content).flatMap((media) => Object.values(media.examples ?? {}));
  return [
    ...(schema ? [tree(contract, schema, "Answer")] : []),
    ...examples.map((item) => element("details", {}, element("summary", {}, `Answer to: ${item.summary}`), element("pre", { tabindex: "0" }, pretty(item.value)))),
  ];
}

function section(contract, number, path, method, operation, settings) {
  const request = operation.requestBody ? schemaOf(contract, operation.requestBody.content) : null;
  return element("article", { class: "operation", id: operation.operationId, "aria-labelledby": `${operation.operationId}-title` },
    element("h3", { id: `${operation.operationId}-title` }, `${number} ${operation.summary}`),
    element("p", {}, element("span", { class: "path" }, `${method.toUpperCase()} ${path}`)),
    ...prose(operation.description),
    ...parameters(contract, operation),
    ...(request ? [tree(contract, request, "Body")] : []),
    ...answers(contract, operation), problems(contract, operation),
    element("h4", {}, "Try it"), trial(contract, path, method, operation, settings));
}

function operationsOf(contract, tag) {
  return Object.entries(contract.paths).flatMap(([path, item]) =>
    Object.entries(item).filter(([, operation]) => operation.tags?.includes(tag))
      .map(([method, operation]) => ({ path, method, operation })));
}

function show(contract) {
  const settings = settingsBox();
  document.title = `${contract.info.title}: API reference`;
  main.replaceChildren(element("p", { class: "kind" }, `${contract.info.title}, contract ${contract.info.version}`),
    ...prose(contract.info.description), settings.box);
  contract.tags.forEach((tag, index) => {
    const found = operationsOf(contract, tag.name);
    main.append(element("h2", {}, `${index + 1} ${tag.name}`), element("p", {}, tag.description),
      ...found.map((item, place) => section(contract, `${index + 1}.${place + 1}`, item.path, item.method, item.operation, settings)));
    contents.append(element("strong", {}, `${index + 1} ${tag.name}`), element("ul", {}, ...found.map(({ operation }) =>
      element("li", {}, element("a", { href: `#${operation.operationId}` }, operation.summary)))));
  });
  if (location.hash) document.getElementById(location.hash.slice(1))?.scrollIntoView();
}

const response = await fetch("/openapi.json");
show(await response.json());
