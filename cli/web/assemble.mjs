// One file from all parts: the program, its glue, airfoils and ready cases, packed, and the shell.
// usage: node assemble.mjs ROOT WASM GLUE PAGE... OUT   (PAGE: pages of the program, whose scripts are let run)
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const [root, wasm, glue, ...rest] = process.argv.slice(2);
const out = rest.pop();
const web = join(root, "cli/web");
const read = (file) => readFileSync(file, "utf8");
const packed = (bytes) => gzipSync(bytes, { level: 9 }).toString("base64");

const airfoils = {};
for (const name of readdirSync(join(root, "airfoils"), { withFileTypes: true }))
  if (name.isDirectory())
    for (const file of readdirSync(join(root, "airfoils", name.name)))
      airfoils[`/airfoils/${name.name}/${file}`] = read(join(root, "airfoils", name.name, file));
// Ready cases, and what lies beside them; without Expat no GPX log is read.
const readsGpx = !readFileSync(wasm).includes("a GPX log is not read by this page");
const cases = {}, beside = {};
const put = (folder, to) => {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const file = join(folder, entry.name);
    if (entry.isDirectory()) put(file, `${to}/${entry.name}`);
    else if (!entry.name.endsWith(".toml")) beside[`${to}/${entry.name}`] = read(file);
    else if (readsGpx || !/\.gpx"/.test(read(file))) cases[entry.name.replace(".toml", "")] = read(file);
  }
};
cases.labels = read(join(web, "labels.toml"));
put(join(root, "cases"), "/case");

const shell = read(join(web, "case_text.js")) + read(join(web, "shell.js"));
const hash = (script) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`;
const keeper = read(join(web, "keeper.js"));
if (/<\/script|<!--/i.test(shell + keeper)) throw new Error("a script that would end its own element");
const hashes = new Set([hash(shell), hash(keeper)]);
for (const page of rest)
  for (const found of read(page).matchAll(/'sha256-[A-Za-z0-9+/=]+'/g)) hashes.add(found[0]);

const parts = {
  hashes: [...hashes].join(" "),
  head: read(join(root, "cli/page/head.html")),
  palette: read(join(root, "cli/page/palette.css")),
  style: read(join(web, "shell.css")),
  program: packed(readFileSync(wasm)),
  glue: packed(JSON.stringify({ glue: [glue, join(web, "call.js"), join(web, "worker.js")].map(read).join(""), airfoils, cases, beside,
    keeper, keeperHash: hash(keeper) })),
  shell,
};
const form = read(join(web, "shell.html"));
writeFileSync(out, form.replace(/@(\w+)@/g, (all, name) => parts[name] ?? all));
