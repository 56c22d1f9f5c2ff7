// What a pilot does with the one page, in whichever browser: the same steps for every test of it.
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export const settled = (page) => page.waitForFunction(() => {
  const state = document.getElementById("state").textContent;
  return !/ready|orking/.test(state) && (document.getElementById("page").srcdoc || /No answer/.test(state));
}, { timeout: 120000, polling: 100 });
export const answer = (page) => page.evaluate(() => document.getElementById("page").srcdoc);
export const text = (page) => page.evaluate(() => document.getElementById("text").value);
export const faultsTold = (page) => page.evaluate(() => document.getElementById("faults").textContent);
export const type = async (page, id, value) => {
  await page.focus(`#${id}`);
  await page.evaluate((i) => document.getElementById(i).select(), id);
  await page.keyboard.type(value);
  await page.keyboard.press("Tab");
};
// Into the file, `what` put in place of `was`.
export const retype = async (page, was, what) => {
  await page.evaluate((from, to) => {
    const area = document.getElementById("text");
    area.value = area.value.replace(from, to);
    area.dispatchEvent(new Event("input"));
  }, was, what);
  await new Promise((r) => setTimeout(r, 700));
  await settled(page);
};

// A number typed, its unit forgotten, a key misspelt; a case opened, saved and shared by its address; by keyboard alone.
export const steps = async ({ page, open, check, folder, saved }) => {
  await settled(page);
  check(/Alder 136/.test(await answer(page)), "the first answer names the propellers");
  await type(page, "air-0-elevation", "900 m");
  await settled(page);
  check(/^elevation = "900 m"/m.test(await text(page)), "a field writes into its own line");
  check(/900 m above sea level/.test(await answer(page)), "the answer follows the field");
  const before = await text(page);
  await type(page, "engine-0-rpm_limit", "8500");
  await settled(page);
  check(/Line \d+: rpm_limit: "8500" has no unit/.test(await faultsTold(page)),
    `a number without its unit is told at its line: ${await faultsTold(page)}`);
  check(await page.evaluate(() => document.getElementById("engine-0-rpm_limit").classList.contains("wrong")),
    "the field that is wrong is marked");
  check(await page.evaluate(() => /has no unit/.test(document.getElementById(
    document.getElementById("engine-0-rpm_limit").getAttribute("aria-describedby"))?.textContent)), "and says why");
  await page.click("#faults button");
  check(await page.evaluate(() => document.activeElement.id === "text"), "a fault leads to its line in the file");
  await page.click("#as-form");
  await type(page, "engine-0-rpm_limit", "8500 rpm");
  await settled(page);
  check(await text(page) === before, "put right again the file is as it was");
  check(await page.evaluate(() => document.getElementById("faults").hidden), "faults go when they are mended");
  await page.click("#as-file");
  await retype(page, "trim_speed", "trim_sped");
  check(/trim_speed/.test(await faultsTold(page)), "a misspelt key is answered with the right one");
  await retype(page, "trim_sped", "trim_speed");
  await page.click("#as-form");

  // Saved, and what was saved opened again after a change.
  mkdirSync(saved, { recursive: true });
  rmSync(join(saved, "mine.toml"), { force: true });
  await page.click("#save");
  for (let i = 0; i < 100 && !existsSync(join(saved, "mine.toml")); i++) await new Promise((r) => setTimeout(r, 100));
  check(existsSync(join(saved, "mine.toml")) && readFileSync(join(saved, "mine.toml"), "utf8") === before, "a case is saved");
  writeFileSync(join(folder, "opened.toml"), before.replace('elevation = "900 m"', 'elevation = "700 m"'));
  await (await page.$("#file")).uploadFile(join(folder, "opened.toml"));
  await page.waitForFunction(() => document.getElementById("text").value.includes("700 m"));
  await settled(page);
  check(/700 m above sea level/.test(await answer(page)), "and opened");

  // Shared by its address.
  await page.click("#share");
  await page.waitForFunction(() => location.hash.includes("c="));
  const hash = await page.evaluate(() => location.hash);
  const shared = await text(page);
  const other = await open({ hash });
  await settled(other.page);
  check(await text(other.page) === shared, "the address holds the case");
  await other.close();

  // By keyboard alone: to the questions, along them, and back into the form.
  await page.focus("#ready");
  const at = () => page.evaluate(() => document.activeElement.id);
  for (let i = 0; i < 80 && !(await at()).startsWith("ask-"); i++) await page.keyboard.press("Tab");
  check(await at() === "ask-compare", "the Tab key reaches the questions");
  await page.keyboard.press("ArrowRight");
  await settled(page);
  check(await at() === "ask-match", "arrow keys move among the questions");
  check(/Alder 136/.test(await answer(page)), "and ask them");
};
