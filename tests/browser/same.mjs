// The program compiled for a browser against the program itself: every command on every ready case, document by
// document. usage: node same.mjs PROGRAM ROOT WASM GLUE
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, resolve } from "node:path";

const [program, root, wasm, glue] = process.argv.slice(2).map((p) => resolve(p));
// Of the greatest number of its unit in the document: a difference of two, or one next to nothing, is as sure as they
// are. Less is asked of what is found to less: the time to spin up by steps of its own choice, the angle of least loss on
// a flat bottom, and the end of a curve, where thrust vanishes. A blade drawn by a search on a flat best is another in its
// last printed digits: it must do as well.
const furthest = (place) => /^design .*\.blade\.(climb|standing|level|cruise)/.test(place) ? 1e-3
  : /^design /.test(place) ? 0.1
  : /spool_up_s/.test(place) ? 1e-6
  : /best_angle_deg|^curve .*points\.20\.efficiency/.test(place) ? 1e-7 : 1e-9;
const unit = (key) => /_(n|nm|w|m_s|deg|rpm|m|pa|kg|s|c|mm|g|hz|dba|l_h|kg_m3)(_(low|high))?$/.exec(key)?.[1] ?? key;
const scales = (value, key, found = new Map()) => {
  if (typeof value === "number") found.set(unit(key), Math.max(found.get(unit(key)) ?? 0, Math.abs(value)));
  else if (value && typeof value === "object") for (const [k, v] of Object.entries(value)) scales(v, /^\d+$/.test(k) ? key : k, found);
  return found;
};

const needs = createRequire(import.meta.url);
const made = await needs(glue)({ wasmBinary: readFileSync(wasm), print() {}, printErr() {} });
const call = needs(join(root, "cli/web/call.js"))(made);
const put = (from, to) => {
  for (const name of readdirSync(from)) {
    const file = join(from, name);
    if (statSync(file).isDirectory()) put(file, `${to}/${name}`);
    else call.put(`${to}/${name}`, readFileSync(file));
  }
};
put(join(root, "airfoils"), "/airfoils");
put(join(root, "cases"), "/cases");

const words = (text) => text.replace(/[-\d.]+/g, "0");
let numbers = 0, worst = 0, where = "";
const failures = [];
const same = (a, b, place, scale, key = "") => {
  if (typeof a === "number" && typeof b === "number") {
    numbers++;
    const off = Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b), scale?.get(unit(key)) ?? 0, 1e-12);
    if (off > worst && furthest(place) === 1e-9) { worst = off; where = place; }
    if (off > furthest(place)) failures.push(`${place}: ${a} against ${b}`);
  } else if (a && b && typeof a === "object" && typeof b === "object") {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    for (const k of keys) same(a[k], b[k], `${place}.${k}`, scale, /^\d+$/.test(k) ? key : k);
  } else if (/^design /.test(place) && typeof a === "string" && typeof b === "string" && words(a) === words(b)) {
    return;
  } else if (a !== b) {
    failures.push(`${place}: ${JSON.stringify(a)} against ${JSON.stringify(b)}`);
  }
};

// Made without the source of Expat it reads no GPX log, and says so.
const readsGpx = !readFileSync(wasm).includes("a GPX log is not read by this page");
if (!readsGpx) console.log("this page reads no GPX log: the case with one is left out");
let documents = 0, native = 0, here = 0;
for (const file of readdirSync(join(root, "cases")).filter((f) => f.endsWith(".toml"))) {
  if (!readsGpx && /\.gpx"/.test(readFileSync(join(root, "cases", file), "utf8"))) continue;
  for (const command of ["match", "compare", "curve", "blade", "lesson", "fit", "trial", "design"]) {
    const words = [command, `cases/${file}`, "--json"];
    const t = Date.now();
    const there = spawnSync(program, words, { cwd: root, encoding: "utf8", maxBuffer: 1e8 });
    native += Date.now() - t;
    const began = Date.now();
    const answer = call.run([command, `/cases/${file}`, "--json"]);
    here += Date.now() - began;
    const place = `${command} ${file}`;
    if (there.status !== answer.status) failures.push(`${place}: exit ${there.status} against ${answer.status}: ${answer.err}`);
    else if (there.status === 2) same(there.stderr, answer.err.replaceAll("/cases/", "cases/"), place);
    else {
      documents++;
      const document = JSON.parse(there.stdout);
      same(document, JSON.parse(answer.out), place, scales(document, ""));
    }
  }
}
for (const failure of failures.slice(0, 30)) console.log(`FAILED: ${failure}`);
console.log(`${documents} documents, ${numbers} numbers: furthest ${worst.toExponential(1)} (${where}); ` +
  `${(here / native).toFixed(1)} times as long; ${failures.length} failures`);
process.exit(failures.length ? 1 : 0);
