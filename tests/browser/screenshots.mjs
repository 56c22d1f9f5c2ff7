// The two pictures of README.
import { mkdirSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { launch, open, write } from "./browser.mjs";

const [program, cases, out] = process.argv.slice(2);
const most = 150_000;  // bytes each
mkdirSync(out, { recursive: true });
const folder = mkdtempSync(join(tmpdir(), "loadline-screenshots-"));
const browser = await launch();
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
    const picture = join(out, command + ".png");
    await page.screenshot({ path: picture });
    const bytes = statSync(picture).size;
    console.log(`${picture}: ${bytes} bytes`);
    if (bytes > most) throw new Error(`${picture} is larger than ${most} bytes`);
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true });
}
