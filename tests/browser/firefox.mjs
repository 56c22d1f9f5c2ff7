// The one page in Firefox, opened from its file: what live.mjs asks of Chromium, as far as a pilot meets it.
// usage: node firefox.mjs PAGE FOLDER
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";
import { answer, settled, steps } from "./pilot.mjs";

const [file, folder] = process.argv.slice(2);
const executablePath = ["/usr/bin/firefox-esr", "/usr/bin/firefox"].find(existsSync);
if (!executablePath) {
  console.log("Firefox is not installed (Debian: firefox-esr): the page was not tried in it");
  process.exit(77);
}
let checks = 0;
const failures = [];
const check = (holds, what) => {
  checks++;
  if (!holds) { failures.push(what); console.log(`FAILED: ${what}`); }
};
const saved = resolve(folder, "saved-firefox");
const browser = await puppeteer.launch({ browser: "firefox", executablePath, headless: true, extraPrefsFirefox: {
  "browser.download.folderList": 2, "browser.download.dir": saved, "browser.download.useDownloadDir": true,
  "browser.download.always_ask_before_handling_new_types": false } });
const faults = [];
const open = async ({ hash = "", width = 1280, height = 900 } = {}) => {
  const page = await browser.newPage();
  page.on("console", (m) => { if (["error", "warn"].includes(m.type())) faults.push(m.text()); });
  page.on("pageerror", (e) => faults.push(e.message));
  page.on("request", (r) => { if (!/^(file|blob|about|data):/.test(r.url())) faults.push(`request ${r.url()}`); });
  await page.setViewport({ width, height });
  await page.goto(pathToFileURL(file).href + hash);
  return { page, close: () => page.close() };
};
const { page, close } = await open();
await steps({ page, open, check, folder, saved });
for (const [name, id, words] of [["builder", "blade", /Doubtful on paper/], ["demo", "lesson", /Larch 172/]]) {
  await page.select("#ready", name);
  await settled(page);
  await page.click(`#ask-${id}`);
  await settled(page);
  check(words.test(await answer(page)), `${id} answers the case ${name}`);
}
await page.screenshot({ path: join(folder, "live-firefox.png") });
await close();
const small = await open({ width: 390, height: 844 });
await settled(small.page);
check(await small.page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "on a phone nothing sticks out");
await small.close();
check(faults.length === 0, `nothing fails or leaves the page: ${faults.join("; ")}`);
await browser.close();
console.log(`live page in Firefox: ${checks} checks, ${failures.length} failures`);
process.exit(failures.length ? 1 : 0);
