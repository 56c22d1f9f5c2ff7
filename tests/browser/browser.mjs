// The program, and a browser to look at its pages with.
import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

export const phone = { name: "phone", width: 390, height: 844 };
export const desktop = { name: "desktop", width: 1280, height: 900 };

export const launch = () => {
  const executablePath = ["chromium-headless-shell", "chromium", "chromium-browser"].map((name) => `/usr/bin/${name}`).find(existsSync);
  if (!executablePath) throw new Error("chromium is not installed; run: bash cli/packages.sh tests");
  // Root in a container has no sandbox of its own; the pages are ours.
  return puppeteer.launch({ executablePath, headless: "shell", args: ["--no-sandbox"] });
};

export const write = (program, args) =>
  execFileSync(program, args, { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"], maxBuffer: 1e8 });

// Opens a page file and notes whatever a reader should never meet: errors, and requests that leave
// the file.
export const open = async (browser, file, size, scheme, scripts = true) => {
  const page = await browser.newPage();
  const faults = [];
  const url = pathToFileURL(file).href;
  page.on("console", (m) => { if (["error", "warn"].includes(m.type())) faults.push(`console: ${m.text()}`); });
  page.on("pageerror", (e) => faults.push(`error: ${e.message}`));
  page.on("request", (r) => { if (r.url() !== url) faults.push(`request: ${r.url().slice(0, 100)}`); });
  await page.setViewport({ width: size.width, height: size.height, deviceScaleFactor: size.scale ?? 1 });
  await page.setJavaScriptEnabled(scripts);
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  await page.goto(url, { waitUntil: "load" });
  return { page, faults };
};
