// How long the one page makes a pilot wait on a processor four times as slow: four times the processor time of the
// page's own threads and of its worker, which does not depend on what else the machine does.
// What misses its bar is told; twice the bar fails: a busy machine makes the same work up to half as dear again, and
// the opening, which has the start of a process in it, misses by two thirds.
// usage: node speed.mjs PAGE
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { cpuOf, memoryOf, processOf, since } from "./cpu.mjs";
import { launch } from "./browser.mjs";

const [file] = process.argv.slice(2);
const slower = 4;
const failures = [];
const told = (what, spent, bar) => {
  const ms = slower * (spent.page + spent.worker);
  const parts = Object.entries(spent).map(([k, v]) => `${k} ${v.toFixed(0)}`).join(", ");
  console.log(`${what}: ${ms.toFixed(0)} ms${bar < Infinity ? ` of ${bar}` : ""} (not slowed: ${parts} ms)`);
  if (ms > bar) console.log(`   MISSED by ${((ms / bar - 1) * 100).toFixed(0)} %`);
  if (ms > 2 * bar) failures.push(what);
};
const memory = (what, mb, bar) => {
  console.log(`${what}: ${mb.toFixed(0)} MB of ${bar}`);
  if (mb > bar) failures.push(what);
};

// The page tells when an answer has come and when it is drawn.
const watch = () => {
  new MutationObserver(() => window.tell("came"))
    .observe(document, { subtree: true, attributes: true, attributeFilter: ["srcdoc"] });
  document.addEventListener("load", (e) => { if (e.target.id === "page" && e.target.srcdoc) window.tell("drawn"); }, true);
};

const browser = await launch();
let pid = null;  // of the page
const spentSoFar = () => {
  pid ??= processOf(browser.process().pid) ?? null;
  return pid ? cpuOf(pid) : { page: 0, worker: 0, helpers: 0 };
};
const page = await browser.newPage();
let marks = [], heard = () => {};
await page.exposeFunction("tell", (mark) => { marks.push({ mark, at: spentSoFar() }); heard(); });
await page.evaluateOnNewDocument(watch);
const still = () => page.waitForFunction(() => document.getElementById("page")?.srcdoc &&
  !/ready|orking/.test(document.getElementById("state").textContent), { polling: 200, timeout: 120000 });
// What each answer to one act cost since the act: the worker until it came, the page until it was drawn. One that is
// overtaken while it is drawn counts with the one that overtook it.
const answers = async (act) => {
  marks = [];
  const before = spentSoFar();
  await act();
  await still();
  const drawnAfter = (came) => marks.slice(marks.indexOf(came)).find((m) => m.mark === "drawn");
  const came = marks.filter((m) => m.mark === "came");
  while (!drawnAfter(came.at(-1))) await new Promise((r) => { heard = r; });
  return came.map((one) => since(before, { ...drawnAfter(one).at, worker: one.at.worker }));
};
const put = (text) => page.evaluate((t) => {
  const area = document.getElementById("text");
  area.value = t;
  area.dispatchEvent(new Event("input"));
}, text);

const [first] = await answers(() => page.goto(pathToFileURL(file).href));
told("first answer of opening", first, 3000);
memory("memory of the page, its worker and its frame", memoryOf(pid), 200);

const three = await page.evaluate(() => document.getElementById("text").value);
await answers(() => page.click("#ask-match"));
for (const [n, temperature] of ["19", "21", "23"].entries()) {
  const [changed] = await answers(() => page.evaluate((value) => {
    const field = document.getElementById("air-0-temperature");
    field.value = value;
    field.dispatchEvent(new Event("change"));
  }, `${temperature} degC`));
  told(`match after changed number ${n + 1}`, changed, n < 1 ? Infinity : 300);
}

const parts = three.split(/(?=\[\[propeller\]\])/);
const more = parts.slice(1).map((p) => p.replace(/name = "([^"]+)"/, 'name = "$1 B"').replace(/chord = "7/, 'chord = "8'));
const six = [...parts, ...more].join("");
await answers(() => page.click("#ask-compare"));
await answers(() => put(six));
const [quick, ranges, whole = ranges] = await answers(() => put(six.replace('elevation = "120 m"', 'elevation = "140 m"')));
told("six compared, without ranges", quick, 2000);
told("six compared, with ranges", ranges, 6000);
told("six compared, with all draws", whole, Infinity);
memory("memory after six", memoryOf(pid), 200);
await browser.close();
for (const what of failures) console.log(`FAILED: ${what}`);
process.exit(failures.length ? 1 : 0);
