// The case file as a form sees it: the text is the truth, and a field writes into its own line.
// Tables and keys are found line by line; a value over several lines is left to the file.
"use strict";
const caseText = (() => {
  const header = /^\s*(\[\[|\[)\s*([A-Za-z0-9_-]+)\s*(\]\]|\])/;
  const key = /^(\s*([A-Za-z0-9_-]+)\s*=\s*)(.*)$/;

  // Where a value that begins at `from` ends in the line, and how many brackets stay open.
  const endOfValue = (line, from, open) => {
    let depth = open, quote = "", last = from;
    for (let i = from; i < line.length; i++) {
      const c = line[i];
      if (quote) {
        if (c === "\\" && quote === '"') i++;
        else if (c === quote) quote = "";
      } else if (c === '"' || c === "'") quote = c;
      else if (c === "[" || c === "{") depth++;
      else if (c === "]" || c === "}") depth--;
      else if (c === "#") break;
      if (c !== " " && c !== "\t" && c !== "\r") last = i + 1;
    }
    return { last: Math.min(last, line.length), depth };
  };

  // [{name, list, line, end, keys: {key: {line, from, to, value, simple}}}], the first without a name.
  const tables = (text) => {
    const lines = text.split("\n");
    const found = [{ name: "", list: false, line: -1, end: 0, keys: new Map() }];
    let depth = 0;
    lines.forEach((line, at) => {
      const table = found[found.length - 1];
      if (depth > 0) {
        depth = endOfValue(line, 0, depth).depth;
        table.end = at + 1;
        return;
      }
      const head = header.exec(line);
      if (head) {
        found.push({ name: head[2], list: head[1] === "[[", line: at, end: at + 1, keys: new Map() });
        return;
      }
      const pair = key.exec(line);
      if (!pair) return;
      const from = pair[1].length;
      const end = endOfValue(line, from, 0);
      depth = end.depth;
      const raw = line.slice(from, end.last);
      const quoted = /^"((?:[^"\\]|\\.)*)"$/.exec(raw) ?? /^'([^']*)'$/.exec(raw);
      const unescaped = (t) => raw[0] === "'" ? t : t.replace(/\\(["\\])/g, "$1");
      table.keys.set(pair[2], { line: at, from, to: end.last, raw, quoted: !!quoted,
        value: quoted ? unescaped(quoted[1]) : raw, simple: depth === 0 });
      table.end = at + 1;
    });
    return found;
  };

  const quote = (value) => `"${value.replace(/[\\"]/g, "\\$&")}"`;
  const which = (all, name, index) => all.filter((t) => t.name === name)[index];

  // `plain`: written without quotation marks, as numbers are.
  const set = (text, name, index, field, value, plain) => {
    const lines = text.split("\n");
    const all = tables(text);
    const table = which(all, name, index);
    const known = table?.keys.get(field);
    const written = plain || (known && !known.quoted && /^[[{]/.test(value)) ? value : quote(value);
    if (known) {
      if (!known.simple) return text;
      const line = lines[known.line];
      if (value === "") lines.splice(known.line, 1);
      else lines[known.line] = line.slice(0, known.from) + written + line.slice(known.to);
      return lines.join("\n");
    }
    if (value === "") return text;
    if (table) {
      lines.splice(table.end, 0, `${field} = ${written}`);
      return lines.join("\n");
    }
    const before = all.find((t) => t.list);
    const added = [`[${name}]`, `${field} = ${written}`, ""];
    if (before) lines.splice(before.line, 0, ...added);
    else lines.push("", ...added);
    return lines.join("\n");
  };

  // Adds a table of a list behind the last of its name, with these pairs.
  const add = (text, name, pairs) => {
    const lines = text.replace(/\s*$/, "\n").split("\n");
    const same = tables(lines.join("\n")).filter((t) => t.name === name);
    const at = same.length ? same[same.length - 1].end : lines.length - 1;
    lines.splice(at, 0, "", `[[${name}]]`,
      ...pairs.map(([k, v, plain]) => `${k} = ${plain ? v : quote(v)}`));
    return lines.join("\n");
  };
  const remove = (text, name, index) => {
    const lines = text.split("\n");
    const table = which(tables(text), name, index);
    if (!table) return text;
    lines.splice(table.line, table.end - table.line);
    return lines.join("\n");
  };

  return { tables, set, add, remove };
})();
if (typeof module !== "undefined") module.exports = caseText;
