// What the form writes into a case: its own line and nothing else. usage: node case_text.mjs ROOT
import { createRequire } from "node:module";
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";

const root = resolve(process.argv[2]);
const caseText = createRequire(import.meta.url)(join(root, "cli/web/case_text.js"));
let checks = 0;
const failures = [];
const check = (holds, what) => { checks++; if (!holds) { failures.push(what); console.log(`FAILED: ${what}`); } };

for (const file of readdirSync(join(root, "cases")).filter((f) => f.endsWith(".toml"))) {
  for (const ends of ["\n", "\r\n"]) {
    const text = readFileSync(join(root, "cases", file), "utf8").replaceAll("\n", ends);
    const lines = text.split("\n");
    const seen = new Map();
    for (const table of caseText.tables(text)) {
      const index = seen.get(table.name) ?? 0;
      seen.set(table.name, index + 1);
      if (!table.name) continue;
      for (const [key, known] of table.keys) {
        const place = `${file} [${table.name}] ${key}`;
        const again = caseText.set(text, table.name, index, key, known.value, !known.quoted);
        check(again === text, `${place}: written as it was, the file is as it was`);
        if (!known.simple) continue;
        const changed = caseText.set(text, table.name, index, key, 'a "b" \\ #c', false);
        const now = changed.split("\n");
        check(now.length === lines.length && now.filter((l, i) => l !== lines[i]).length === 1,
          `${place}: one line changes`);
        const read = caseText.tables(changed).filter((t) => t.name === table.name)[index].keys.get(key);
        check(read.value === 'a "b" \\ #c', `${place}: what is written is read: ${read.value}`);
        check(lines[known.line].slice(known.to) === now[known.line].slice(read.to), `${place}: its remark stays`);
        const gone = caseText.set(text, table.name, index, key, "", false);
        check(gone.split("\n").length === lines.length - 1, `${place}: taken out with its line`);
      }
    }
    const more = caseText.add(text, "propeller", [["name", "another"], ["blades", "2", true]]);
    const count = (t) => caseText.tables(t).filter((x) => x.name === "propeller").length;
    check(count(more) === count(text) + 1, `${file}: a propeller more`);
    check(count(caseText.remove(more, "propeller", count(text))) === count(text), `${file}: and less`);
    const table = caseText.set(text, "wishes", 0, "rank", '["quiet"]', true);
    check(caseText.tables(table).some((t) => t.name === "wishes" && t.keys.get("rank").value === '["quiet"]'),
      `${file}: a table that was not there`);
  }
}
// Braces, brackets and remarks within quotation marks do not count.
const odd = 'x = "a # b [ {"  # c\n[engine]\nname = \'it # s\' # d\ntorque = [ # e\n  ["1 rpm", "]"],\n]\nlimit = 3\n';
const engine = caseText.tables(odd).find((t) => t.name === "engine");
check(engine.keys.get("name").value === "it # s" && engine.keys.get("limit").value === "3" &&
  !engine.keys.get("torque").simple, "what stands in quotation marks is text");
console.log(`case as text: ${checks} checks, ${failures.length} failures`);
process.exit(failures.length ? 1 : 0);
