// The pictures of README: two pages, and the whole program in one where that is given.
import { mkdirSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { launch, open, write } from "./browser.mjs";

const [program, cases, out, whole] = process.argv.slice(2);
const most = 150_000;  // bytes each
mkdirSync(out, { recursive: true });
const folder = mkdtempSync(join(tmpdir(), "loadline-screenshots-"));
const browser = await launch();
const take = async (page, name) => {
  const picture = join(out, name + ".png");
  await page.screenshot({ path: picture });
  const bytes = statSync(picture).size;
  console.log(`${picture}: ${bytes} bytes`);
  if (bytes > most) throw new Error(`${picture} is larger than ${most} bytes`);
};
try {
  for (const [command, scheme, height, width, prepare] of [
    ["match", "light", 790, 800, async () => {}],
    ["lesson", "dark", 750, 1000, async (page) => {
      await page.focus("#turned");
      for (let i = 0; i < 20; i++) await page.keyboard.press("ArrowRight");
      await page.$eval("h2", (h) => h.scrollIntoView());
    }],
  ]) {
    const file = join(folder, command + ".html");
    write(program, [command, join(cases, "demo.toml"), "--page", file]);
    const { page } = await open(browser, file, { width, height, scale: 0.8 }, scheme);
    await prepare(page);
    await take(page, command);
  }
  if (whole) {
    const { page } = await open(browser, whole, { width: 1180, height: 800, scale: 0.8 }, "light");
    await page.waitForFunction(() => document.getElementById("page").srcdoc &&
      document.getElementById("state").textContent === "", { timeout: 60000 });
    await take(page, "live");
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true });
}
