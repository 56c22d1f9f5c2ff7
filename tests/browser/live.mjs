// The one page as a pilot uses it: the case typed and misspelt, opened and saved, shared by its address, every question
// asked, by keyboard, on a phone and a desk, light and dark. usage: node live.mjs PAGE FOLDER [pictures]
import { mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { launch } from "./browser.mjs";

const [file, folder, wanted] = process.argv.slice(2);
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
const settled = (page) => page.waitForFunction(() => {
  const state = document.getElementById("state").textContent;
  return !/ready|Working|working/.test(state) && (document.getElementById("page").srcdoc || /No answer/.test(state));
}, { timeout: 60000 });
const answer = (page) => page.evaluate(() => document.getElementById("page").srcdoc);
const text = (page) => page.evaluate(() => document.getElementById("text").value);
const type = async (page, id, value) => {
  await page.focus(`#${id}`);
  await page.evaluate((i) => document.getElementById(i).select(), id);
  await page.keyboard.type(value);
  await page.keyboard.press("Tab");
};
const picture = async (page, name) => {
  if (wanted === "pictures") await page.screenshot({ path: join(shots, `${name}.png`) });
};

// First answer, and what a changed field does to file and answer.
{
  const { page, faults, close } = await open();
  const began = Date.now();
  await settled(page);
  console.log(`first answer with its ranges after ${Date.now() - began} ms`);
  check(/Alder 136/.test(await answer(page)), "the first answer names the propellers");
  await picture(page, "live-desk");
  await type(page, "air-0-elevation", "900 m");
  await settled(page);
  check(/^elevation = "900 m"/m.test(await text(page)), "a field writes into its own line");
  check(/900 m above sea level/.test(await answer(page)), "the answer follows the field");
  const before = await text(page);
  await type(page, "engine-0-rpm_limit", "8500");
  await settled(page);
  const fault = await page.evaluate(() => document.getElementById("faults").textContent);
  check(/Line \d+: rpm_limit: "8500" has no unit/.test(fault), `a number without its unit is told at its line: ${fault}`);
  check(await page.evaluate(() => document.getElementById("engine-0-rpm_limit").classList.contains("wrong")),
    "the field that is wrong is marked");
  await page.click("#faults button");
  check(await page.evaluate(() => document.activeElement.id === "text"), "a fault leads to its line in the file");
  await page.click("#as-form");
  await type(page, "engine-0-rpm_limit", "8500 rpm");
  await settled(page);
  check(await text(page) === before, "put right again the file is as it was");
  check(await page.evaluate(() => document.getElementById("faults").hidden), "faults go when they are mended");

  // A misspelt key, typed into the file.
  await page.click("#as-file");
  await page.evaluate(() => {
    const area = document.getElementById("text");
    area.value = area.value.replace("trim_speed", "trim_sped");
    area.dispatchEvent(new Event("input"));
  });
  await new Promise((r) => setTimeout(r, 700));
  await settled(page);
  check(/trim_speed/.test(await page.evaluate(() => document.getElementById("faults").textContent)),
    "a misspelt key is answered with the right one");
  await page.evaluate(() => {
    const area = document.getElementById("text");
    area.value = area.value.replace("trim_sped", "trim_speed");
    area.dispatchEvent(new Event("input"));
  });
  await page.click("#as-form");

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

  // Shared by its address.
  await page.click("#share");
  await page.waitForFunction(() => location.hash.includes("c="));
  const hash = await page.evaluate(() => location.hash);
  const shared = await text(page);
  check(faults.length === 0, `nothing fails or leaves the page: ${faults.join("; ")}`);
  await close();
  const other = await open({ hash });
  await settled(other.page);
  check(await text(other.page) === shared, "the address holds the case");
  await other.close();
}

// Every question of every ready case, each by the keyboard.
{
  const { page, faults, close } = await open();
  await settled(page);
  const cases = await page.evaluate(() => [...document.querySelectorAll("#ready option")].map((o) => o.value).filter(Boolean));
  check(cases.length >= 6, "the ready cases are there");
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
  await page.focus("#ask-compare");
  await page.keyboard.press("ArrowRight");
  await settled(page);
  check(await page.evaluate(() => document.activeElement.id === "ask-match"), "arrow keys move among the questions");
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

// How long a changed number takes, on a processor four times as slow.
{
  const { page, close } = await open();
  await settled(page);
  const session = await page.createCDPSession();
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  await page.click("#ask-match");
  await settled(page);
  const began = Date.now();
  await type(page, "air-0-temperature", "25 degC");
  await settled(page);
  console.log(`match after a changed number, the page's thread slowed four times: ${Date.now() - began} ms with its ranges`);
  await close();
}
await browser.close();
console.log(`live page: ${checks} checks, ${failures.length} failures`);
process.exit(failures.length ? 1 : 0);
