// A schema as a tree that opens on demand: name, kind, what it means; nested objects are drawn when opened.
import { element, prose } from "./element.js";

export function resolve(contract, node) {
  if (!node || !node.$ref) return node;
  const found = node.$ref.slice(2).split("/").reduce((place, name) => place[name], contract);
  return node.description ? { ...found, description: node.description } : found;
}

function limits(schema) {
  const said = [];
  if (schema.minimum !== undefined) said.push(`from ${schema.minimum}`);
  if (schema.maximum !== undefined) said.push(`to ${schema.maximum}`);
  if (schema.maxLength !== undefined) said.push(`at most ${schema.maxLength} characters`);
  if (schema.maxItems !== undefined) said.push(`at most ${schema.maxItems} items`);
  if (schema.default !== undefined) said.push(`default ${schema.default}`);
  return said.join(", ");
}

function kindOf(contract, schema) {
  if (schema.oneOf) return schema.oneOf.map((item) => kindOf(contract, resolve(contract, item))).join(" or ");
  if (schema.type === "array") return `list of ${kindOf(contract, resolve(contract, schema.items))}`;
  return schema.format ? `${schema.type} (${schema.format})` : schema.type ?? "anything";
}

function inner(contract, schema) {
  const options = [schema, schema.items, ...(schema.oneOf ?? [])].map((item) => resolve(contract, item));
  return options.find((item) => item?.properties);
}

function member(contract, name, node, required) {
  const schema = resolve(contract, node);
  const kind = [kindOf(contract, schema), limits(schema)].filter(Boolean).join("; ");
  const title = element("dt", {}, element("code", {}, name), " ", element("span", { class: "kind" }, kind));
  if (required) title.append(" ", element("span", { class: "required" }, "required"));
  const words = schema.enum ?? schema.items?.enum;
  const meaning = element("dd", {}, ...prose(schema.description ?? ""));
  if (words && !(schema.description ?? "").includes("\n- ")) meaning.append(element("p", {}, `One of: ${words.join(", ")}`));
  const nested = inner(contract, schema);
  if (nested) meaning.append(tree(contract, nested, "Members"));
  return [title, meaning];
}

export function tree(contract, schema, title) {
  const box = element("details", {}, element("summary", {}, title));
  box.addEventListener("toggle", () => {
    if (box.children.length > 1) return;
    const rows = Object.entries(schema.properties ?? {}).flatMap(([name, node]) =>
      member(contract, name, node, (schema.required ?? []).includes(name)));
    box.append(element("dl", { class: "members" }, ...rows));
  }, { once: true });
  return box;
}
