// No serious fault that axe-core finds for readers of screens and users of keyboards: on the one page, in the answers it
// draws, and on every written page, light and dark. usage: node axe.mjs PROGRAM CASES PAGE FOLDER
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { launch, write } from "./browser.mjs";
import { retype, settled } from "./pilot.mjs";

const [program, cases, live, folder] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let looked = 0;
const failures = [];
const look = async (page, frame, what) => {
  await frame.evaluate(axe);
  for (const scheme of ["light", "dark"]) {
    await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
    await new Promise((r) => setTimeout(r, 150));
    const { violations } = await frame.evaluate(() => window.axe.run(document, { iframes: false,
      // What scrolls is reached by keys by itself: Firefox since long, Chromium since 130 (its notes of "keyboard
      // focusable scrollers", from memory); a stop on each would be one where nothing scrolls.
      rules: { "scrollable-region-focusable": { enabled: false } }, resultTypes: ["violations"] }));
    looked++;
    for (const fault of violations.filter((v) => ["serious", "critical"].includes(v.impact))) {
      const where = fault.nodes.slice(0, 3).map((n) => `${n.target.join(" ")} (${n.failureSummary.split("\n").pop().trim().slice(0, 160)})`);
      failures.push(fault.id);
      console.log(`FAILED: ${what}, ${scheme}: ${fault.id}, ${fault.nodes.length} times: ${where.join("; ")}`);
    }
  }
};

const browser = await launch();
const written = [["compare", "paraglider"], ["compare", "demo"], ["match", "demo"], ["match", "readings"], ["blade", "builder"],
  ["curve", "measured"], ["lesson", "demo"], ["fit", "readings"], ["trial", "trial"], ["trial", "log"]];
for (const [command, name] of written) {
  const file = join(folder, `axe-${command}-${name}.html`);
  write(program, [command, join(cases, `${name}.toml`), "--page", file, "--force"]);
  for (const [width, height] of command === "compare" ? [[390, 844], [1280, 900]] : [[1280, 900]]) {
    const page = await browser.newPage();
    await page.setViewport({ width, height });
    await page.goto(pathToFileURL(file).href, { waitUntil: "load" });
    await look(page, page.mainFrame(), `${command} of ${name}, ${width} px`);
    await page.close();
  }
}

for (const [width, height] of [[390, 844], [1280, 900]]) {
  const page = await browser.newPage();
  await page.setViewport({ width, height });
  await page.goto(pathToFileURL(live).href);
  await settled(page);
  await look(page, page.mainFrame(), `the form, ${width} px`);
  await page.click("#as-file");
  await retype(page, "trim_speed", "trim_sped");
  await look(page, page.mainFrame(), `the case file with a fault, ${width} px`);
  await page.click("#as-form");
  await retype(page, "trim_sped", "trim_speed");
  await retype(page, "8500 rpm", "8500");
  await look(page, page.mainFrame(), `the form with a fault, ${width} px`);
  await retype(page, '"8500"', '"8500 rpm"');
  if (width < 800) await page.click("#to-answer");
  for (const [question, ready] of [["compare", "paraglider"], ["match", "demo"], ["lesson", "demo"], ["blade", "builder"],
    ["curve", "measured"], ["fit", "readings"], ["trial", "trial"]].slice(0, width < 800 ? 1 : 7)) {
    await page.select("#ready", ready);
    await settled(page);
    await page.click(`#ask-${question}`);
    await settled(page);
    const frame = await (await page.$("#page")).contentFrame();
    await frame.waitForSelector("h1");
    if (width < 800) await look(page, page.mainFrame(), `around the answer ${question}, ${width} px`);
    await look(page, frame, `the answer ${question}, ${width} px`);
  }
  await page.close();
}
await browser.close();
console.log(`axe-core: ${looked} looks, ${failures.length} serious faults`);
process.exit(failures.length || looked < 40 ? 1 : 0);
