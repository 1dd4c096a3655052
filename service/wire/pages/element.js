// Elements from script; text goes into text nodes only.
export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

// A small part of Markdown: paragraphs, lists of "- ", **bold** and `code`.
export function prose(text) {
  return text.trim().split(/\n\s*\n/).map((block) => {
    const lines = block.split("\n");
    if (!lines.every((line) => line.startsWith("- "))) return element("p", {}, ...inline(lines.join(" ")));
    return element("ul", {}, ...lines.map((line) => element("li", {}, ...inline(line.slice(2)))));
  });
}

function inline(text) {
  return text.split(/(\*\*[^*]+\*\*|`[^`]+`)/).map((part) => {
    if (part.startsWith("**")) return element("strong", {}, part.slice(2, -2));
    return part.startsWith("`") ? element("code", {}, part.slice(1, -1)) : part;
  });
}

export function pretty(value) {
  return typeof value === "string" ? value : JSON.stringify(value, null, 2);
}
