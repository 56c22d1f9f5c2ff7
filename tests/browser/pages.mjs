// Every page as its readers meet it: on a phone and a desk, light and dark, printed, and without
// scripts; and the lesson's sliders against what match and compare say of the same case.
import { mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { desktop, launch, open, phone, write } from "./browser.mjs";
import { lesson } from "./lesson.mjs";

const [program, cases, folder, wanted] = process.argv.slice(2);
const shots = join(folder, "screenshots");
mkdirSync(shots, { recursive: true });
// Pictures and printed sheets are for people, and a third of the time.
const picture = async (page, name, options = {}) => {
  if (wanted === "pictures") await page.screenshot({ path: join(shots, name + ".png"), ...options });
};
const demo = readFileSync(join(cases, "demo.toml"), "utf8");

let checks = 0;
const failures = [];
const check = (holds, what) => {
  checks++;
  if (!holds) { failures.push(what); console.log(`FAILED: ${what}`); }
};

// ---- the pages

// Names and a title that try to be something else, and one as long as a case may have. (What turns a line round is
// refused by the reader; page_test holds it in a page.)
const hostile = demo
  .replace(/title = ".*"/, `title = '<img src=x onerror="document.title=1"> \u05d0\u05d1\u05d2 & </script><script>throw 1</script>'`)
  .replaceAll('name = "Larch 172"', `name = '</script><script>throw 2</script><!-- "a" & b'`)
  .replace('name = "Larch 172 coarse"', `name = "\u05de\u05d3\u05d7\u05e3 172 \u05d0\u05d1\u05d2"`)
  .replace('name = "Rowan 166 three-blade"', `name = "${"w".repeat(200)}"`);
const coarse = "\n[model]\nannuli = 8\n"; // where what a lesson looks like is the question
writeFileSync(join(folder, "hostile.toml"), hostile + coarse);
const hostileReadings = readFileSync(join(cases, "readings.toml"), "utf8")
  .replaceAll('"Alder 136"', `'</script><script>throw 2</script><!-- "a" & b'`)
  .replaceAll('"Sorrel 136 swept"', `"\u05de\u05d3\u05d7\u05e3 172 \u05d0\u05d1\u05d2"`)
  .replace('"Alder 141 fine"', `"${"w".repeat(200)}"`).replace('"720 N"', '"470 N"');
writeFileSync(join(folder, "hostile-readings.toml"), hostileReadings);
const bare = demo.replace(/\[craft\][\s\S]*?(?=\[climb\])/, "").replace(/\[climb\][\s\S]*?(?=\[\[propeller)/, "")
  .replace(/head_.*\n/g, "");
writeFileSync(join(folder, "bare.toml"), bare + coarse);

// As many as a club has: the blades of the first, each a little coarser than the one before.
const dozen = () => {
  const [head, first, ...rest] = demo.split("[[propeller]]");
  const more = Array.from({ length: 10 }, (_, k) => first.replace("Larch 172", `Aspen 172 number ${k}`)
    .replace(/"([\d.]+) deg"\]/g, (_, angle) => `"${(Number(angle) + 0.5 * (k - 3)).toFixed(1)} deg"]`));
  return [head, first, ...rest, ...more].join("[[propeller]]");
};
writeFileSync(join(folder, "dozen.toml"), dozen());

const pages = [
  { name: "match", args: ["match", join(cases, "demo.toml")] },
  { name: "match-imperial", args: ["match", join(cases, "paraglider.toml"), "--units", "imperial"] },
  { name: "curve", args: ["curve", join(cases, "measured.toml"), "--against",
    join(cases, "measured-points.csv"), "--rpm", "1000"] },
  { name: "compare", args: ["compare", join(cases, "paraglider.toml")] },
  { name: "compare-dozen", args: ["compare", join(folder, "dozen.toml")] },
  { name: "blade", args: ["blade", join(cases, "builder.toml")] },
  { name: "design", args: ["design", join(cases, "builder.toml")] },
  { name: "trial", args: ["trial", join(cases, "trial.toml")] },
  { name: "fit", args: ["fit", join(cases, "readings.toml")] },
  { name: "trial-logs", args: ["trial", join(cases, "log.toml")] },
  { name: "lesson", args: ["lesson", join(cases, "demo.toml")] },
  { name: "lesson-bare", args: ["lesson", join(folder, "bare.toml")] },
  { name: "match-hostile", args: ["match", join(folder, "hostile.toml")] },
  { name: "compare-hostile", args: ["compare", join(folder, "hostile.toml"), "--no-band"] },
  { name: "lesson-hostile", args: ["lesson", join(folder, "hostile.toml")] },
  { name: "fit-hostile", args: ["fit", join(folder, "hostile-readings.toml")] },
];
for (const page of pages) {
  page.file = join(folder, page.name + ".html");
  write(program, [...page.args, "--page", page.file]);
  page.bytes = statSync(page.file).size;
  // The lesson carries tables fine enough for a blade's stall.
  const most = page.name.startsWith("lesson") ? 850 : 600;
  check(page.bytes < most * 1000, `${page.name}: ${page.bytes} bytes, above ${most} kB`);
}

// ---- what is asked of each; these run inside the page

const layout = () => {
  const wrong = [];
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > wide) wrong.push("the page scrolls sideways");
  for (const e of document.querySelectorAll("main *")) {
    if (e.closest("svg") || e.closest(".scroll table")) continue;
    const box = e.getBoundingClientRect();
    if (box.width > 0 && (box.right > wide + 1 || box.left < -1))
      wrong.push(`${e.tagName} ${(e.textContent || e.id).slice(0, 30)} reaches to ${box.right}`);
  }
  const headings = [...document.querySelectorAll("h1, h2, h3, h4")].map((h) => Number(h.tagName[1]));
  if (headings[0] !== 1 || headings.filter((h) => h === 1).length !== 1) wrong.push("not one h1, first");
  headings.forEach((h, i) => { if (i && h > headings[i - 1] + 1) wrong.push(`h${h} after h${headings[i - 1]}`); });
  for (const table of document.querySelectorAll("table"))
    if (![...table.querySelectorAll("th")].every((th) => ["col", "row"].includes(th.scope)))
      wrong.push("a table heading without scope");
  for (const picture of document.querySelectorAll("canvas, svg:not(svg svg)"))
    if (picture.getAttribute("role") !== "img" || (picture.getAttribute("aria-label") || "").length < 15)
      wrong.push("a picture without its words");
  for (const input of document.querySelectorAll("input"))
    if (!input.labels.length) wrong.push(`${input.id} has no label`);
  // Said with its unit, in steps that can be read.
  for (const input of document.querySelectorAll("input[type=range]")) {
    if (!/^[+-]?[\d.]+ \S/.test(input.getAttribute("aria-valuetext"))) wrong.push(`${input.id} says no unit`);
    if (input.step.length > 14) wrong.push(`${input.id} steps by ${input.step}`);
  }
  if (document.querySelectorAll("[aria-live], output, [role=status]").length > 1) wrong.push("several places are read out at once");
  // Keys reach what scrolls, and nothing that does not.
  for (const box of document.querySelectorAll(".scroll"))
    if (box.hasAttribute("tabindex") && box.scrollWidth <= box.clientWidth) wrong.push("a stop of the Tab key that does not scroll");
  for (const plot of document.querySelectorAll(".plot:not(.low)")) {
    const chart = window.Chart && Chart.getChart(plot.querySelector("canvas"));
    const area = chart && !plot.closest(".board, .small") && chart.chartArea;
    if (area && area.bottom - area.top < 235) wrong.push(`a picture ${area.bottom - area.top} px high`);
  }
  // The answer is in sight before anything is scrolled.
  const lead = document.querySelector(".lead p")?.getBoundingClientRect();
  if (!lead || lead.top < 0 || lead.top > 0.5 * innerHeight) wrong.push("the answer is not in sight");
  return wrong;
};

// WCAG 2.1, 1.4.3: 4.5 to 1, or 3 to 1 for large text (24 px, bold from 18.66 px).
const contrast = () => {
  const wrong = [];
  const channels = (c) => c.match(/[\d.]+/g).map(Number);
  const luminance = ([r, g, b]) => [r, g, b].map((v) => v / 255)
    .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ratio = (a, b) => {
    const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p);
    return (x + 0.05) / (y + 0.05);
  };
  const ground = (e) => {
    for (; e; e = e.parentElement) {
      const c = channels(getComputedStyle(e).backgroundColor);
      if (c.length < 4 || c[3] === 1) return c;
    }
    return [255, 255, 255];
  };
  for (const e of document.querySelectorAll("main *")) {
    if (![...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
    if (!e.getClientRects().length || e.closest("canvas")) continue;
    const style = getComputedStyle(e), size = parseFloat(style.fontSize);
    const large = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
    const found = ratio(channels(style.color), ground(e));
    if (found < (large ? 3 : 4.5)) wrong.push(`contrast ${found.toFixed(2)}: ${e.textContent.slice(0, 30)}`);
  }
  return wrong;
};

// Every colour a chart is told to draw with must be found in its pixels, and stand out from the
// ground by 3 to 1 (WCAG 2.1, 1.4.11) unless it is meant faint.
const charts = () => {
  const wrong = [];
  const canvases = [...document.querySelectorAll("canvas")];
  for (const canvas of canvases) {
    const chart = Chart.getChart(canvas);
    if (!chart) { wrong.push(`${canvas.id} is no chart`); continue; }
    const { data, width, height } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    const colours = new Set();
    for (const set of chart.data.datasets)
      if (set.data.some((d) => !Array.isArray(d) || d[0] < d[1]) && (set.borderWidth ?? 1) > 0)
        [set.borderColor ?? set.backgroundColor].flat().filter((c) => /^#[0-9a-f]{6}$/i.test(c)).forEach((c) => colours.add(c));
    if (!chart.data.datasets.length) wrong.push(`${canvas.id} draws nothing`);
    for (const colour of colours) {
      const want = [1, 3, 5].map((i) => parseInt(colour.slice(i, i + 2), 16));
      let found = 0;
      for (let i = 0; i < data.length && found < 20; i += 4)
        if (data[i + 3] > 200 && want.every((v, k) => Math.abs(data[i + k] - v) < 12)) found++;
      if (found < 20) wrong.push(`${canvas.id}: ${found} pixels of ${colour} in ${width} x ${height}`);
    }
  }
  return wrong;
};

// Of a picture in SVG: no words over each other or over its edge, and what is drawn stands out from
// the ground by 3 to 1 unless it is meant faint.
const drawings = () => {
  const wrong = [];
  const channels = (c) => c.match(/[\d.]+/g).slice(0, 3).map(Number);
  const luminance = (c) => channels(c).map((v) => v / 255)
    .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = luminance(getComputedStyle(document.documentElement).backgroundColor);
  for (const drawn of document.querySelectorAll("svg.drawn")) {
    const name = drawn.getAttribute("aria-label").slice(0, 30), edge = drawn.getBoundingClientRect();
    const texts = [...drawn.querySelectorAll("text")].filter((t) => t.textContent);
    const boxes = texts.map((t) => t.getBoundingClientRect());
    boxes.forEach((a, i) => {
      const said = texts[i].textContent.slice(0, 30);
      if (a.left < edge.left - 1 || a.right > edge.right + 1 || a.top < edge.top - 2 || a.bottom > edge.bottom + 2)
        wrong.push(`${name}: "${said}" leaves its picture`);
      boxes.slice(0, i).forEach((b, k) => {
        if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3)
          wrong.push(`${name}: "${said}" lies over "${texts[k].textContent.slice(0, 30)}"`);
      });
    });
    const lines = [...drawn.querySelectorAll("path, line, circle, rect")].filter((e) => !e.matches(".rule, .area, .ninth, .hatch"));
    if (!lines.length) wrong.push(`${name}: nothing is drawn`);
    for (const e of lines) {
      const { stroke, fill } = getComputedStyle(e);
      const colour = luminance(stroke === "none" ? fill : stroke);
      if ((Math.max(colour, ground) + 0.05) / (Math.min(colour, ground) + 0.05) < 3) wrong.push(`${name}: a faint ${e.getAttribute("class")}`);
    }
  }
  return wrong;
};

// On paper: what opens on a screen is open, and no word is broken but a name without an end.
const paper = () => {
  const wrong = [];
  for (const e of document.querySelectorAll("details > p, .said p"))
    if (!e.getClientRects().length || !e.checkVisibility({ contentVisibilityAuto: true })) wrong.push(`hidden: ${e.textContent.slice(0, 30)}`);
  for (const cell of document.querySelectorAll("th, td")) {
    const walk = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
    for (let node; (node = walk.nextNode());)
      for (const word of node.textContent.matchAll(/[^\s-]+/g)) {
        if (word[0].length > 20) continue;
        const range = document.createRange();
        range.setStart(node, word.index);
        range.setEnd(node, word.index + word[0].length);
        const tops = [...range.getClientRects()].filter((r) => r.width > 0).map((r) => Math.round(r.top));
        if (new Set(tops).size > 1) wrong.push(`broken: ${word[0]}`);
      }
  }
  return wrong;
};

// ---- look

// What follows a change of size or colours is done a few frames later.
const frames = (page) => page.evaluate(() => new Promise((done) =>
  requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50)))));

const browser = await launch();
const opened = new Map();  // page -> least time to open, ms
const openedIn = async (page, name) => {
  const took = await page.evaluate(() => performance.getEntriesByType("navigation")[0].loadEventEnd);
  opened.set(name, Math.min(took, opened.get(name) ?? Infinity));
};
// Every page in both sizes and both colours: opened in one and turned to the other; a page's like is turned on a desk alone.
const likes = new Set(["compare-dozen", "match-imperial", "lesson-bare", "match-hostile", "compare-hostile", "lesson-hostile", "fit-hostile"]);
const look = async ({ name, file }) => {
  for (const { size, scheme, other } of [{ size: phone, scheme: "dark", other: "light" }, { size: desktop, scheme: "light", other: "dark" }]) {
    const where = `${name}, ${size.name}, ${scheme}`;
    const { page, faults } = await open(browser, file, size, scheme);
    await openedIn(page, name);
    for (const wrong of [...faults, ...await page.evaluate(layout), ...await page.evaluate(contrast),
      ...await page.evaluate(charts), ...await page.evaluate(drawings)]) check(false, `${where}: ${wrong}`);
    checks += 5;
    await picture(page, `${name}-${size.name}-${scheme}`, { fullPage: true });
    if (size === desktop || !likes.has(name)) {
      const colours = () => page.evaluate(() => JSON.stringify([
        ...[...document.querySelectorAll("canvas")].map((c) => Chart.getChart(c).data.datasets.map((d) => d.borderColor ?? d.backgroundColor)),
        ...[...document.querySelectorAll("svg.drawn path")].map((e) => getComputedStyle(e).stroke)]));
      const first = await colours();
      await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: other }]);
      await frames(page);
      check(await colours() !== first, `${where}, turned ${other}: the charts stay ${scheme}`);
      for (const wrong of [...await page.evaluate(contrast), ...await page.evaluate(charts), ...await page.evaluate(drawings)])
        check(false, `${where}, turned ${other}: ${wrong}`);
      checks += 3;
      await picture(page, `${name}-${size.name}-${other}`, { fullPage: true });
      if (likes.has(name)) await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
    }
    if (size === desktop) {
      if (wanted === "pictures") await page.pdf({ path: join(shots, `${name}.pdf`), format: "A4", preferCSSPageSize: true });
      // The width of A4 less its margins, at 96 dots an inch.
      await page.setViewport({ width: Math.floor((210 - 30) / 25.4 * 96), height: 1000 });
      await page.emulateMediaType("print");
      await frames(page);
      const cut = await page.evaluate(() => [...document.querySelectorAll("main *")]
        .filter((e) => !e.closest("svg") && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
        .map((e) => `${e.tagName} ${e.textContent.slice(0, 30)}`));
      check(!cut.length, `${where}, printed: cut off: ${cut.slice(0, 3).join("; ")}`);
      const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
      check(ground === "rgb(255, 255, 255)", `${where}, printed on ${ground}`);
      for (const wrong of [...await page.evaluate(drawings), ...await page.evaluate(paper)])
        check(false, `${where}, printed: ${wrong}`);
    }
    await page.close();
  }
  // Without scripts the words and figures are all there, and no empty frames.
  const { page, faults } = await open(browser, file, phone, "light", false);
  const bareWords = await page.evaluate(() => ({
    lead: document.querySelector(".lead").innerText.length,
    drawn: [...document.querySelectorAll("svg.drawn:not(.cell svg, .blade, .scripted svg)")].filter((e) => e.getBoundingClientRect().height < 50).length,
    cells: [...document.querySelectorAll("td")].filter((td) => /\d/.test(td.innerText)).length,
    captions: [...document.querySelectorAll("figcaption")].filter((c) => c.getClientRects().length &&
      !c.parentElement.querySelector("svg")).length,
    frames: [...document.querySelectorAll("canvas, input")].filter((e) => e.getClientRects().length).length }));
  check(bareWords.lead > 40, `${name} without scripts: no answer`);
  check(bareWords.drawn === 0, `${name} without scripts: ${bareWords.drawn} pictures are gone`);
  check(bareWords.cells > 5, `${name} without scripts: ${bareWords.cells} figures`);
  check(bareWords.captions === 0, `${name} without scripts: ${bareWords.captions} captions of nothing`);
  check(bareWords.frames === 0, `${name} without scripts: ${bareWords.frames} empty frames`);
  check(!faults.filter((f) => !f.includes("script")).length, `${name} without scripts: ${faults}`);
  await page.close();
};
// Two at a time, each in a window of its own.
const waiting = [...pages];
await Promise.all([0, 1].map(async () => {
  while (waiting.length) await look(waiting.shift());
}));
// One that opened late beside another is opened again by itself.
for (const { name, file } of pages) {
  for (let again = 0; again < 4 && opened.get(name) >= 1000; ++again) {
    const { page } = await open(browser, file, desktop, "light");
    await openedIn(page, name);
    await page.close();
  }
  check(opened.get(name) < 1000, `${name} opens in ${opened.get(name)} ms`);
}

// Twelve propellers on one screen of a desk, and two of a phone; a row opens by keys without scripts.
for (const [size, screens] of [[desktop, 1], [phone, 2]]) {
  const { page } = await open(browser, join(folder, "compare-dozen.html"), size, "light", false);
  const rows = await page.evaluate(() => {
    const all = [...document.querySelectorAll(".matrix tr:not(.said)")].map((e) => e.getBoundingClientRect());
    return { count: all.length, height: Math.max(...all.map((b) => b.bottom)) - Math.min(...all.filter((b) => b.height).map((b) => b.top)) };
  });
  check(rows.count === 14, `${rows.count} rows of twelve others and the present one`);
  check(rows.height <= screens * size.height, `twelve propellers take ${rows.height} px of a ${size.name}`);
  const said = () => page.evaluate(() => document.querySelector(".one .said").getClientRects().length > 0);
  check(!await said(), `a row stands open on a ${size.name}`);
  await page.focus(".row summary");
  await page.keyboard.press("Enter");
  check(await said(), `a row does not open on a ${size.name}`);
  check(await page.evaluate(() => !document.querySelector(".matrix button")), "without scripts a heading seems to sort");
  await page.close();
}

// A heading sorts its column, the better end first, by mouse, by keys and on a phone; rows keep their words.
for (const size of [desktop, phone]) {
  const { page, faults } = await open(browser, join(folder, "compare-dozen.html"), size, "light");
  const seen = () => page.evaluate(() => {
    const heads = [...document.querySelectorAll(".matrix thead th")], rows = [...document.querySelectorAll(".one")];
    return { sorted: heads.map((h) => h.getAttribute("aria-sort") || "").join(), letters: rows.map((r) => r.querySelector("b").textContent).join(""),
      values: heads.map((_, c) => rows.map((r) => parseFloat(r.rows[0].cells[c].dataset.value))),
      words: rows.map((r) => `${r.querySelector("bdi").textContent}: ${r.querySelector(".said").textContent}`).sort().join(),
      small: heads.map((h) => h.querySelector("button").getBoundingClientRect().height).filter((h) => h < 24).length };
  });
  const rising = (values) => values.every((v, i) => !i || values[i - 1] <= v);
  const press = async (column) => { await page.click(`.matrix thead th:nth-child(${column + 1}) button`); return seen(); };
  const first = await seen();
  check(first.sorted.startsWith("other,,") && first.small === 0, `headings of a ${size.name}: ${first.sorted}, ${first.small} too small`);
  await page.evaluate(() => { document.querySelectorAll(".one details")[2].open = true; });
  const climb = await press(1), fuel = await press(3), again = await press(3);
  check(climb.sorted.startsWith(",descending,") && rising(climb.values[1].slice().reverse()), `climb sorted: ${climb.values[1]}`);
  check(fuel.sorted.startsWith(",,,ascending,") && rising(fuel.values[3]), `fuel sorted: ${fuel.values[3]}`);
  check(again.sorted.startsWith(",,,descending,") && rising(again.values[3].slice().reverse()), `fuel turned: ${again.values[3]}`);
  check(again.words === first.words && again.letters !== first.letters, "a row lost its words by sorting");
  check(await page.evaluate((third) => [...document.querySelectorAll(".one")].filter((r) => r.querySelector("details").open)
    .every((r) => r.querySelector("b").textContent === third && r.querySelector(".said").getClientRects().length), first.letters[2]),
  "what was open is not, or another is");
  await page.focus(".matrix thead th:first-child button");
  await page.keyboard.press("Enter");
  check((await seen()).letters === first.letters, "the first heading does not put back the ranking");
  check(!faults.length, `sorted on a ${size.name}: ${faults}`);
  await page.close();
}

// On a projector the column grows; the efficiency of a curve keeps its scale below zero thrust.
{
  const { page } = await open(browser, join(folder, "curve.html"), { width: 1920, height: 1080 }, "light");
  const seen = await page.evaluate(() => {
    const { min: low, max: high } = Chart.getChart([...document.querySelectorAll("canvas")].at(-1)).scales.y;
    return { wide: document.querySelector("main").getBoundingClientRect().width, low, high };
  });
  check(seen.wide > 1400, `${seen.wide} px of a projector's 1920`);
  check(seen.low === 0 && seen.high === 1, `efficiency from ${seen.low} to ${seen.high}`);
  await page.close();
}

// Hostile names are there letter by letter, and moved nothing.
for (const name of ["match-hostile", "compare-hostile", "lesson-hostile", "fit-hostile"]) {
  const { page } = await open(browser, join(folder, name + ".html"), desktop, "light");
  const text = await page.evaluate(() => document.querySelector("main").textContent);
  check(text.includes(`</script><script>throw 2</script><!-- "a" & b`), `${name}: the name is not shown as text`);
  check(await page.evaluate(() => document.querySelectorAll("img, main script").length) === 0, `${name}: markup came alive`);
  // A name written from the right, with an override in it, turns no word of ours round.
  const turned = await page.evaluate(() => [...document.querySelectorAll("main *")].filter((e) =>
    [...e.childNodes].some((n) => n.nodeType === 3 && /[\u0590-\u05ff\u202e]/.test(n.textContent)) && e.tagName !== "BDI" &&
    e.tagName !== "CANVAS" &&
    !(e.tagName === "text" && /^[^\u0590-\u05ff]*\u2068[^\u2068]*\u2069[^\u0590-\u05ff]*$/.test(e.textContent))).map((e) => e.outerHTML.slice(0, 80)));
  check(!turned.length, `${name}: not kept to itself: ${turned.slice(0, 2).join("; ")}`);
  check(await page.title() !== "1", `${name}: a title took over`);
  await page.close();
}

// ---- the lesson's sliders, steps, guesses and class

const worst = await lesson({ browser, program, cases, folder, check, picture });
await browser.close();

for (const { name, bytes } of pages) console.log(`${name}: ${(bytes / 1000).toFixed(0)} kB, opens in ${opened.get(name).toFixed(0)} ms`);
console.log(`sliders off from match by at most ${(100 * Math.max(0, worst)).toFixed(3)} % beyond rounding`);
console.log(`${checks} checks, ${failures.length} failed`);
process.exitCode = failures.length ? 1 : 0;
