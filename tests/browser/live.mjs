// The one page as a pilot uses it: the case typed and misspelt, opened and saved, shared by its address, every question
// asked, by keyboard, on a phone and a desk, light and dark. usage: node live.mjs PAGE FOLDER PROGRAM CASES [pictures]
import { execFileSync } from "node:child_process";
import { copyFileSync, mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { launch } from "./browser.mjs";
import { answer, settled, steps, text, type } from "./pilot.mjs";

const [file, folder, program, cases, wanted] = process.argv.slice(2);
const shots = join(folder, "screenshots");
mkdirSync(shots, { recursive: true });
let checks = 0;
const failures = [];
const check = (holds, what) => {
  checks++;
  if (!holds) { failures.push(what); console.log(`FAILED: ${what}`); }
};

check(statSync(file).size < 3 * 1024 * 1024, "the page is under 3 MB");
const browser = await launch();
const open = async ({ width = 1280, height = 900, scheme = "light", hash = "", scripts = true } = {}) => {
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  const faults = [];
  page.on("console", (m) => { if (["error", "warn"].includes(m.type())) faults.push(m.text()); });
  page.on("pageerror", (e) => faults.push(e.message));
  page.on("request", (r) => { if (!/^(file|blob|about|data):/.test(r.url())) faults.push(`request ${r.url()}`); });
  await page.setViewport({ width, height });
  await page.setJavaScriptEnabled(scripts);
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  await page.goto(pathToFileURL(file).href + hash);
  return { page, faults, close: () => context.close() };
};
const picture = async (page, name) => {
  if (wanted === "pictures") await page.screenshot({ path: join(shots, `${name}.png`) });
};

// The case typed, misspelt, saved, opened and shared; then a propeller more.
const saved = resolve(folder, "saved");
{
  const { page, faults, close } = await open();
  await (await page.createCDPSession()).send("Browser.setDownloadBehavior", { behavior: "allow", downloadPath: saved,
    browserContextId: page.browserContext().id });
  await settled(page);
  await picture(page, "live-desk");
  await steps({ page, open, check, folder, saved });
  await page.click("#ask-compare");
  await settled(page);

  // A propeller more, and less.
  await page.click("#add-propeller");
  await settled(page);
  check((await text(page)).match(/\[\[propeller\]\]/g).length === 4, "a propeller is added");
  check(/Propeller 4/.test(await answer(page)), "and compared");
  await page.evaluate(() => [...document.querySelectorAll("legend")].find((l) => l.textContent === "Propeller 4")
    .parentElement.querySelector(".less").click());
  await settled(page);
  check((await text(page)).match(/\[\[propeller\]\]/g).length === 3, "and taken out");

  // A reading teaches.
  await page.click("#add-reading");
  await settled(page);
  check(/The reading narrowed|leaves/.test(await answer(page)), "what a reading taught is said");

  check(faults.length === 0, `nothing fails or leaves the page: ${faults.join("; ")}`);
  await close();
}

// Every question of every ready case, each by the keyboard.
{
  const { page, faults, close } = await open();
  await settled(page);
  const ready = await page.evaluate(() => [...document.querySelectorAll("#ready option")].map((o) => o.value).filter(Boolean));
  check(ready.length >= 7, "the ready cases are there");
  for (const [name, id, words] of [["demo", "match", /Larch 172/], ["builder", "blade", /On paper|not on paper/i],
    ["measured", "curve", /CT/], ["demo", "lesson", /pitch/], ["readings", "fit", /narrowed/], ["trial", "trial", /climbs/]]) {
    await page.select("#ready", name);
    await settled(page);
    await page.click(`#ask-${id}`);
    await settled(page);
    const drawn = await answer(page);
    check(words.test(drawn), `${id} answers the case ${name}`);
    await picture(page, `live-${id}`);
    const frame = page.frames().find((f) => f !== page.mainFrame());
    check(await frame.evaluate(() => document.querySelector("h1") !== null), `${id} is drawn`);
  }
  check(faults.length === 0, `nothing fails: ${faults.join("; ")}`);
  await close();
}

// Opened from a file, with markup and names written from the right; and a file that is none.
{
  const { page, faults, close } = await open();
  await settled(page);
  const hostile = (await text(page)).replace('name = "Alder 136"', `name = '</script><img src=x onerror="document.title=1">'`)
    .replaceAll("Alder 141 fine", "\u05d0\u05dc\u05d5\u05df 141");
  writeFileSync(join(folder, "hostile.toml"), hostile);
  writeFileSync(join(folder, "none.toml"), "\u0000\u0001 no case\n");
  const input = await page.$("#file");
  await input.uploadFile(join(folder, "hostile.toml"));
  await page.waitForFunction(() => document.getElementById("text").value.includes("onerror"));
  await settled(page);
  check(await page.title() === "loadline", "markup in a name stays text");
  check(/\u05d0\u05dc\u05d5\u05df/.test(await answer(page)), "names in all scripts are drawn");
  await input.uploadFile(join(folder, "none.toml"));
  await page.waitForFunction(() => document.getElementById("text").value.includes("no case"));
  await settled(page);
  check(await page.evaluate(() => !document.getElementById("faults").hidden), "what is no case is refused");
  check(faults.length === 0, `nothing fails: ${faults.join("; ")}`);
  await close();
}

// On a phone by somebody who has two labels and a leaflet.
{
  const { page, faults, close } = await open({ width: 390, height: 844 });
  await settled(page);
  await page.select("#ready", "labels");
  await settled(page);
  await type(page, "engine-0-rated", "20 hp at 7800 rpm");
  await type(page, "propeller-0-label", "54 x 28 in");
  await type(page, "propeller-1-label", "54 x 30 in");
  await settled(page);
  await page.click("#to-answer");
  check(/the one I think of/.test(await answer(page)), "two labels are compared");
  check(await page.evaluate(() => document.getElementById("faults").hidden), "a leaflet's figures are taken as they are written");
  await picture(page, "live-labels");
  check(faults.length === 0, `nothing fails: ${faults.join("; ")}`);
  await close();
}

// Sizes, schemes, and without scripts.
for (const [width, height] of [[390, 844], [640, 450], [1920, 1080]]) {
  for (const scheme of ["light", "dark"]) {
    const { page, faults, close } = await open({ width, height, scheme });
    await settled(page);
    check(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${width} px: nothing sticks out`);
    if (width < 700) {
      await page.click("#to-answer");
      check(await page.evaluate(() => document.getElementById("page").getBoundingClientRect().height > 200),
        `${width} px: the answer has room`);
    }
    await picture(page, `live-${width}-${scheme}`);
    check(faults.length === 0, `${width} ${scheme}: nothing fails: ${faults.join("; ")}`);
    await close();
  }
}
{
  const { page, close } = await open({ scripts: false });
  check(/needs scripts/.test(await page.evaluate(() => document.querySelector("noscript")?.textContent ?? "")), "without scripts it says so");
  await close();
}

// On paper stands the answer on as many sheets as it takes, and nothing of the form.
{
  const { page, close } = await open();
  await settled(page);
  for (const question of ["compare", "lesson"]) {
    await page.click(`#ask-${question}`);
    await settled(page);
    // A browser without a screen has no printer to ask for: what is printed is taken by the driver.
    await page.evaluate(() => { window.print = () => { window.asked = (window.asked ?? 0) + 1; }; window.asked = 0; });
    await page.click("#print");
    await page.waitForFunction(() => window.asked === 1);
    await page.pdf({ path: join(folder, `live-${question}.pdf`), preferCSSPageSize: true, printBackground: true });
    await page.emulateMediaType("print");
    await page.setViewport({ width: 680, height: 1009 });  // a sheet within its margins
    const paper = await page.evaluate(() => {
      const shown = (e) => e.getBoundingClientRect().height > 0;
      const main = document.getElementById("paper").shadowRoot.querySelector("main");
      const wide = document.documentElement.clientWidth;
      return { form: shown(document.getElementById("form")) || shown(document.querySelector("header")),
        words: main.innerText, height: main.getBoundingClientRect().height,
        canvases: main.querySelectorAll("canvas").length,
        out: [...main.querySelectorAll("p, svg:not(svg svg), img")].filter((e) => e.getBoundingClientRect().right > wide + 1)
          .map((e) => `${e.tagName} ${e.getAttribute("class")} ${e.getAttribute("aria-label") ?? e.textContent} to ${e.getBoundingClientRect().right}`.slice(0, 120)) };
    });
    await page.emulateMediaType(null);
    await page.setViewport({ width: 1280, height: 900 });
    check(!paper.form && /Caution/.test(paper.words) && paper.out.length === 0 && paper.canvases === 0,
      `${question} is printed whole, and without the form: ${paper.out.join("; ")} stick out, ${paper.canvases} pictures lack`);
    const sheets = readFileSync(join(folder, `live-${question}.pdf`), "latin1").match(/\/Type\s*\/Page\b/g).length;
    check(sheets >= 2 && sheets <= 12, `${question} on ${sheets} sheets`);
  }
  await close();
}

// A written page leads to the one page that lies beside it, with its case.
{
  const written = join(folder, "written.html");
  copyFileSync(file, join(folder, "loadline.html"));
  execFileSync(program, ["match", join(cases, "demo.toml"), "--page", written, "--force"], { stdio: "ignore" });
  const page = await browser.newPage();
  await page.goto(pathToFileURL(written).href);
  await page.evaluate(() => [...document.querySelectorAll("a")].find((a) => a.textContent === "Change this").click());
  await page.waitForFunction(() => document.getElementById("text")?.value);
  await settled(page);
  check(await text(page) === readFileSync(join(cases, "demo.toml"), "utf8"), "a written page opens the one page with its case");
  check(await page.evaluate(() => document.querySelector("#questions [aria-selected=true]").id) === "ask-match", "and its question");
  check(!/Change this/.test(await answer(page)), "where the link has done its work");
  await page.close();
}
await browser.close();
console.log(`live page: ${checks} checks, ${failures.length} failures`);
process.exit(failures.length ? 1 : 0);
