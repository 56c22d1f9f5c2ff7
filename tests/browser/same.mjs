// The program compiled for a browser against the program itself: every command on every ready case, document by
// document. usage: node same.mjs PROGRAM ROOT WASM GLUE
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, resolve } from "node:path";

const [program, root, wasm, glue] = process.argv.slice(2).map((p) => resolve(p));
// Of a number, or of one next to nothing. Two are found to less: the time to spin up by steps of its own choice, the
// angle of least loss on a flat bottom.
const furthest = (place) => /spool_up_s/.test(place) ? 1e-6 : /best_angle_deg/.test(place) ? 1e-7 : 1e-9;

const made = await createRequire(import.meta.url)(glue)({ wasmBinary: readFileSync(wasm), print() {}, printErr() {} });
const put = (from, to) => {
  made.FS.mkdir(to);
  for (const name of readdirSync(from)) {
    const file = join(from, name);
    if (statSync(file).isDirectory()) put(file, `${to}/${name}`);
    else made.FS.writeFile(`${to}/${name}`, readFileSync(file));
  }
};
put(join(root, "airfoils"), "/airfoils");
put(join(root, "cases"), "/cases");
const run = (words) => {
  const text = words.join("\n");
  const size = made.lengthBytesUTF8(text) + 1;
  const at = made._malloc(size);
  made.stringToUTF8(text, at, size);
  const status = made._loadline_run(at);
  made._free(at);
  return { status, out: made.UTF8ToString(made._loadline_out()), err: made.UTF8ToString(made._loadline_err()) };
};

let numbers = 0, worst = 0, where = "";
const failures = [];
const same = (a, b, place) => {
  if (typeof a === "number" && typeof b === "number") {
    numbers++;
    const off = Math.abs(a - b) / Math.max(1, Math.abs(a), Math.abs(b));
    if (off > worst && furthest(place) === 1e-9) { worst = off; where = place; }
    if (off > furthest(place)) failures.push(`${place}: ${a} against ${b}`);
  } else if (a && b && typeof a === "object" && typeof b === "object") {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    for (const key of keys) same(a[key], b[key], `${place}.${key}`);
  } else if (a !== b) {
    failures.push(`${place}: ${JSON.stringify(a)} against ${JSON.stringify(b)}`);
  }
};

let documents = 0, native = 0, here = 0;
for (const file of readdirSync(join(root, "cases")).filter((f) => f.endsWith(".toml"))) {
  if (/\.gpx"/.test(readFileSync(join(root, "cases", file), "utf8"))) continue;  // not read in a browser
  for (const command of ["match", "compare", "curve", "blade", "lesson", "fit", "trial"]) {
    const words = [command, `cases/${file}`, "--json"];
    const t = Date.now();
    const there = spawnSync(program, words, { cwd: root, encoding: "utf8", maxBuffer: 1e8 });
    native += Date.now() - t;
    const began = Date.now();
    const answer = run([command, `/cases/${file}`, "--json"]);
    here += Date.now() - began;
    const place = `${command} ${file}`;
    if (there.status !== answer.status) failures.push(`${place}: exit ${there.status} against ${answer.status}: ${answer.err}`);
    else if (there.status === 2) same(there.stderr, answer.err.replaceAll("/cases/", "cases/"), place);
    else {
      documents++;
      same(JSON.parse(there.stdout), JSON.parse(answer.out), place);
    }
  }
}
for (const failure of failures.slice(0, 30)) console.log(`FAILED: ${failure}`);
console.log(`${documents} documents, ${numbers} numbers: furthest ${worst.toExponential(1)} (${where}); ` +
  `${(here / native).toFixed(1)} times as long; ${failures.length} failures`);
process.exit(failures.length ? 1 : 0);
