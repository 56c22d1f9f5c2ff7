// The lesson: its sliders against what match, blade and compare say of the same case, what it says against its own
// figures wherever a slider takes it, and its steps, guesses, keys and sizes.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { desktop, open, phone, write } from "./browser.mjs";

const put = (page, id, value) => page.$eval("#" + id, (e, v) => {
  e.value = v;
  e.dispatchEvent(new Event("input"));
}, String(value));
const shown = (page, id) => page.$eval("#" + id, (e) => parseFloat(e.textContent));
const text = (page, id) => page.$eval("#" + id, (e) => e.textContent);
const said = (page) => page.$$eval("#said li", (all) => all.map((e) => e.textContent));

// The demo with its first propeller turned and enlarged, geared and placed as asked.
const altered = (demo, file, { turned = 0, diameter = 1, ratio = 3, height = 1240 }) => {
  const [head, first, ...rest] = demo.split("[[propeller]]");
  const number = (v) => v.toFixed(9);
  const blade = first
    .replace(/diameter = "([\d.]+) cm"/, (_, d) => `diameter = "${number(d * diameter)} cm"`)
    .replace(/\["([\d.]+) cm", "([\d.]+) cm", "([\d.]+) deg"\]/g, (_, r, c, angle) =>
      `["${number(r * diameter)} cm", "${number(c * diameter)} cm", "${number(Number(angle) + turned)} deg"]`);
  // As warm for its height: 6.5 K less for each km.
  writeFileSync(file, [head.replace("ratio = 3.0", `ratio = ${ratio}`)
    .replace('elevation = "1240 m"', `elevation = "${height} m"`)
    .replace('"29 degC"', `"${number(29 - 6.5 * (height - 1240) / 1000)} degC"`), blade, ...rest].join("[[propeller]]"));
};
const against = async ({ page, program, demo, folder, check }) => {
  const asked = [
    { turned: 2 }, { turned: -3 }, { turned: 4.5 }, { diameter: 1.05 }, { diameter: 0.93 }, { ratio: 2.6 },
    { ratio: 3.4 }, { height: 20 }, { height: 2840 }, { speed: 0 }, { speed: 30 }, { speed: 100 },
    { turned: 1.5, diameter: 0.95, ratio: 3.2, height: 2000, speed: 50 },
  ];
  const file = join(folder, "altered.toml");
  let worst = 0, steepest = 0, climbs = 0;
  for (const s of asked) {
    const what = JSON.stringify(s);
    await page.click("#again");
    if (s.turned) await put(page, "turned", s.turned);
    if (s.diameter) await put(page, "diameter", 172 * s.diameter);
    if (s.ratio) await put(page, "ratio", s.ratio);
    if (s.height) await put(page, "height", s.height);
    if (s.speed !== undefined) await put(page, "airspeed", s.speed);
    // Sliders take steps; the case is made for where they came to stand.
    const stands = await page.evaluate(() => Object.fromEntries(
      ["turned", "diameter", "ratio", "height", "airspeed"].map((k) => [k, Number(document.getElementById(k).value)])));
    altered(demo, file, { ...stands, diameter: stands.diameter / 172 });
    const { points } = JSON.parse(write(program, ["match", file, "--json", "--no-band", "--propeller",
      "Larch 172", "--speeds", `0, ${stands.airspeed} km/h`])).propellers[0];
    for (const [row, point] of [["static", points[0]], ["flight", points[1]]]) {
      for (const [cell, want, half] of [["rpm", point.engine_rpm, 0.5], ["thrust", point.thrust_n, 0.5],
        ["power", point.shaft_power_w / 1000, 0.05]]) {
        const got = await shown(page, `${row}-${cell}`);
        // Within 0.3 %, and the rounding of what is shown.
        check(Math.abs(got - want) <= 0.003 * want + half, `${what}: ${row} ${cell} shows ${got}, match says ${want}`);
        worst = Math.max(worst, (Math.abs(got - want) - half) / want);
      }
    }
    if (s.speed === undefined) {
      const { climb } = JSON.parse(write(program, ["compare", file, "--json", "--no-band"])).propellers[0];
      // The wing's figures hold at the case's own field, which another height of it would move.
      if (!s.height && climb.rate_m_s > 0 && ++climbs) check(Math.abs(await shown(page, "climb") - climb.rate_m_s) <= 0.01 + 0.003 * Math.abs(climb.rate_m_s),
        `${what}: climb shows ${await shown(page, "climb")}, compare says ${climb.rate_m_s}`);
    }
    if (s.turned && s.speed === undefined || s.diameter === 1.05) {
      // The blade cut across stands between the stations of `blade` beside it, standing still.
      const { stations } = JSON.parse(write(program, ["blade", file, "--json", "--propeller", "Larch 172"]));
      const [within, without] = [stations.findLast((r) => r.radius_m <= 0.0075 * stands.diameter / 2),
        stations.find((r) => r.radius_m > 0.0075 * stands.diameter / 2)];
      const { alpha, stall, along, radius } = await page.evaluate(() => {
        const M = window.lesson, at = (id) => Number(document.getElementById(id).value);
        const s = { turned: at("turned") * M.degree, diameter: at("diameter") / 100, ratio: at("ratio"), height: at("height"), airspeed: at("airspeed") / 3.6 };
        const cut = M.cut(M.scene(s), M.answer(s, 0).rotation, 0);
        return { alpha: cut.alpha / M.degree, stall: cut.stall / M.degree, radius: cut.radius,
          along: cut.along.map((p) => [p.radius, p.alpha / M.degree]) };
      });
      check(radius === 0.75 && along.length > 8, `${what}: cut at ${radius}`);
      const [low, high] = [within.alpha_deg, without.alpha_deg].sort((a, b) => a - b);
      check(alpha > low - 0.2 && alpha < high + 0.2, `${what}: ${alpha} degrees at the cut, blade has ${low} to ${high} about it`);
      check(Math.abs(stall - within.alpha_deg - within.stall_margin_deg) < 0.6, `${what}: stalls at ${stall}`);
      const told = (await page.$eval("#blade-cut", (e) => e.getAttribute("aria-label"))).match(/attack is ([\d.]+) degrees/);
      check(told && Math.abs(Number(told[1]) - alpha) <= 0.051, `${what}: the picture says ${told?.[1]} of ${alpha} degrees`);
      steepest = Math.max(steepest, alpha);
    }
  }
  check(climbs > 3, `climbs were held against compare ${climbs} times`);
  check(steepest > 11, `no blade was set as steep as to stall: ${steepest}`);
  return worst;
};

// Wherever one slider or two are taken: what is said of torque and speed is so by the lesson's own lines.
const sentences = (page) => page.evaluate(() => {
  const M = window.lesson, wrong = [], seen = {};
  const input = (k) => document.getElementById(k);
  const unit = { turned: M.degree, diameter: 0.01, ratio: 1, height: 1, airspeed: 1 / 3.6 };
  const range = (k, n) => Array.from({ length: n }, (_, i) =>
    (Number(input(k).min) + (Number(input(k).max) - Number(input(k).min)) * i / (n - 1)) * unit[k]);
  const hold = (holds, what) => { if (!holds) wrong.push(what); };
  const begin = [M.start, ...range("turned", 3).map((turned) => ({ ...M.start, turned })), { ...M.start, ratio: range("ratio", 2)[1] }];
  for (const before of begin)
    for (const flying of [false, true])
      for (const k of M.knobs)
        for (const value of [...range(k, 5), before[k] + Number(input(k).step) * unit[k]]) {
          const now = { ...before, [k]: value }, e = M.explain(before, now, flying);
          if (!e || !e.a) continue;
          const steps = M.steps(e, before, now), all = steps.join(" "), what = `${k} ${value}: ${all}`;
          hold(steps.length === 3 && !/NaN|undefined|Infinity|null/.test(all), what);
          const more = all.match(/ask (\d+) % (more|less)/);
          if (more) hold(Math.abs((more[2] === "more" ? 1 : -1) * more[1] / 100 - (e.asked / e.a.torque - 1)) <= 0.0051, `asks: ${what}`);
          if (!e.b) { seen.none = true; hold(/agree on no speed/.test(all), what); continue; }
          const fall = Math.round(e.b.rotation * M.rpm) - Math.round(e.a.rotation * M.rpm);
          const slows = /So it slows/.test(all), speeds = /So it speeds up/.test(all), same = /turns as before/.test(all);
          hold(slows + speeds + same === 1 && (slows ? fall < 0 : speeds ? fall > 0 : Math.abs(fall) < 5), `which way: ${what}`);
          // At the old speed more is asked than given where it slows, and less where it speeds up.
          const over = e.asked === null ? 0 : e.asked / e.given - 1;
          if (!/meets the blades' line earlier/.test(all)) {
            if (slows) hold(over > -0.005, `slows: ${what}`);
            if (speeds) hold(over < 0.005, `speeds up: ${what}`);
            seen[slows ? "slows" : speeds ? "speeds" : "same"] = true;
          }
          hold(!/has no such torque/.test(all) || over > 0, `no such torque: ${what}`);
          hold(!/has torque to spare/.test(all) || over < 0, `to spare: ${what}`);
          const given = M.given(M.scene(now), e.b.rotation) / M.given(M.scene(now), e.a.rotation) - 1;
          if (/engine gives more there/.test(all)) { seen.more = true; hold(given > 0.005, `gives more: ${what}`); }
          if (/engine gives less there/.test(all)) { seen.less = true; hold(given < -0.005, `gives less: ${what}`); }
          if (/about as much there/.test(all)) { seen.much = true; hold(Math.abs(given) < 0.015, `as much: ${what}`); }
          const [, is, was] = all.match(/(\d+) N m instead of (\d+)/) ?? [];
          if (is) hold(Math.abs(is - e.b.torque) <= 0.51 && Math.abs(was - e.a.torque) <= 0.51, `torque: ${what}`);
        }
  return { wrong: wrong.slice(0, 5), seen: Object.keys(seen).sort().join(" ") };
});

const byHand = async ({ page, check, picture }) => {
  // By keys, as a reader without a mouse: twenty steps of a tenth of a degree, told in three steps.
  await page.click("#again");
  const before = await shown(page, "static-rpm");
  await page.focus("#turned");
  for (let i = 0; i < 20; i++) await page.keyboard.press("ArrowRight");
  check(await shown(page, "turned-value") === 2, "twenty steps are not two degrees");
  const lines = await said(page);
  check(lines.length === 3 && /^The blades are turned 2\.0° coarser: they meet the air more steeply, at [\d.]+° instead of [\d.]+°\.$/.test(lines[0]), `cause: "${lines[0]}"`);
  check(/^At the same \d+ rpm they ask \d+ % more torque\. The engine has no such torque to give at that speed\.$/.test(lines[1]), `balance: "${lines[1]}"`);
  const told = lines[2].match(/^So it slows until both agree: .*\. At (\d+) rpm, (\d+) rpm lower, both are at (\d+) N m instead of (\d+)\. Thrust: (\d+) N instead of (\d+)\.$/);
  const board = await text(page, "static-rpm");
  check(told && Number(told[1]) === parseFloat(board) && Number(told[2]) === before - parseFloat(board), `"${lines[2]}" against ${board}`);
  // Board, sentence and ghost speak of one start.
  check(told && board === `${told[1]} (−${told[2]})`, `the board says ${board}, the sentence ${told?.[2]} lower`);
  const begun = await page.$eval("#load-lines", (e) => e.getAttribute("aria-label"));
  check(begun.includes(`before, they cross at ${before} rpm`), `the picture begins at "${begun}"`);
  await page.focus("#airspeed");
  for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
  const [flight, speech] = [await text(page, "flight-rpm"), (await said(page))[2]];
  const by = speech.match(/(\d+) rpm (lower|higher)/);
  check(/\(/.test(flight) === !!by && (!by || flight.includes(`(${by[2] === "lower" ? "−" : "+"}${by[1]})`)), `a second slider: the board says ${flight}, "${speech}"`);
  await page.click("#again");
  await put(page, "turned", 2);
  check((await text(page, "limit")).includes("greatest torque"), "nothing is said of lugging");
  await picture(page, "lesson-coarser");
  // The figures are those of the run of pitches beneath, letter by letter.
  const inRun = await page.evaluate(() => [...document.querySelectorAll("tbody tr")].find((r) =>
    r.cells.length > 5 && r.cells[0].textContent.trim() === "+2").cells[1].textContent);
  check(Number(inRun) === await shown(page, "static-rpm"), `${await shown(page, "static-rpm")} rpm above, ${inRun} in the run`);
  check(await page.$eval("#turned", (e) => e.getAttribute("aria-valuetext")) === "+2.0 degrees", "the slider is not told");
  // No crossing leaves the picture, and its words follow; the wedge reddens.
  for (const [id, value] of [["turned", 5], ["ratio", 9], ["ratio", 0], ["turned", -5], ["height", 9000], ["airspeed", 500]]) {
    await page.click("#again");
    await put(page, id, value);
    const off = await page.evaluate(() => {
      const svg = document.getElementById("load-lines"), { width, height } = svg.viewBox.baseVal;
      return [...svg.querySelectorAll("circle")].filter((c) => Number(c.getAttribute("cx")) < 0 || Number(c.getAttribute("cx")) > width ||
        Number(c.getAttribute("cy")) < 0 || Number(c.getAttribute("cy")) > height).length + (svg.querySelectorAll("circle").length < 1);
    });
    check(off === 0, `${id} ${value}: ${off} crossings outside the picture`);
    const rpm = (await text(page, "static-rpm")).split(" ")[0];
    const words = await page.$eval("#load-lines", (e) => e.getAttribute("aria-label"));
    check(words.includes(rpm === "none" ? "do not cross" : `cross at ${rpm} rpm`), `${id} ${value}: "${words}" of ${rpm} rpm`);
  }
  const red = async (turned) => {
    await page.click("#again");
    await put(page, "turned", turned);
    return page.$eval("#blade-cut .wedge.warned", (e) => Number(e.getAttribute("fill-opacity")));
  };
  const reds = [await red(-4), await red(0), await red(2), await red(5)];
  check(reds[0] === 0 && reds[3] > reds[2] && reds[2] > reds[1], `the wedge is ${reds} red`);
  await page.click("#again");
  await put(page, "turned", -5);
  check((await text(page, "limit")).includes("6800 rpm"), "nothing is said of the maker's limit");
};

// Steps, guesses, and the keys of a class.
const together = async ({ page, check, picture }) => {
  await page.click("#again");
  const label = await text(page, "play");
  check(label === "Jump", `for who asks for less motion the button says ${label}`);
  await page.click("#higher");
  check(/^You guessed: higher\. It is lower: \d+ instead of \d+ rpm\.$/.test(await text(page, "verdict")), `a wrong guess: "${await text(page, "verdict")}"`);
  check((await said(page)).length === 3 && await shown(page, "turned-value") === 2, "a guess shows its answer");
  await page.click("#step");
  check((await said(page)).length === 1 && await page.$eval("#load-lines", (e) => !e.textContent.includes("asks")), "the first step tells the cause alone");
  await page.click("#step");
  check((await said(page)).length === 2 && await page.$eval("#load-lines", (e) => /asks \d+ % more/.test(e.textContent)), "the second step tells what is asked");
  await page.click("#step");
  check((await said(page)).length === 3 && await page.$eval("#load-lines", (e) => !!e.querySelector(".slid")), "the third step tells the new crossing");
  // All questions, answered each way; a guess before every answer.
  for (let i = 0; i < 6; i++) {
    await page.click("#another");
    await page.click("#lower");
    check(/^You guessed: lower\./.test(await text(page, "verdict")), `question ${i}: "${await text(page, "question")}" "${await text(page, "verdict")}"`);
  }
  await page.click("#again");
  await page.click("#hold");
  await put(page, "turned", 3);
  check(await text(page, "static-rpm") === "?" && !/\d/.test((await said(page)).join("")) && await text(page, "limit") === "", "an answer is given before the guess");
  check(await page.$eval("#load-lines", (e) => !e.querySelector(".ghost") && /held back/.test(e.getAttribute("aria-label"))), "the picture gives the answer away");
  await page.click("#lower");
  check(/So it is/.test(await text(page, "verdict")) && await shown(page, "static-rpm") > 1000, "a right guess is told");
  await page.click("#hold");
  // A class: the board alone, in large letters, by keys.
  await page.click("#class");
  await page.waitForFunction(() => document.documentElement.classList.contains("class"));
  const room = await page.evaluate(() => ({ letter: parseFloat(getComputedStyle(document.getElementById("said")).fontSize),
    seen: [...document.querySelectorAll(".board svg, .board input[type=range], #said, .agreed")].every((e) => {
      const b = e.getBoundingClientRect();
      return b.width > 0 && b.top >= -1 && b.bottom <= innerHeight + 1 && b.right <= innerWidth + 1;
    }), wide: document.querySelector(".board").getBoundingClientRect().width, lead: document.querySelector(".lead").getClientRects().length }));
  check(room.letter >= 24 && room.seen && room.wide > 1900 && room.lead === 0, `a class sees ${JSON.stringify(room)}`);
  await picture(page, "lesson-class");
  await page.keyboard.press("0");
  await page.keyboard.press("1");
  for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
  check(await text(page, "turned-value") === "+0.3", `keys moved the slider to ${await text(page, "turned-value")}`);
  await page.keyboard.press("s");
  check((await said(page)).length === 1, "the key s takes a step");
  await page.keyboard.press("r");
  check(/^You guessed: higher/.test(await text(page, "verdict")), "the key r guesses");
  await page.keyboard.press("Escape");
  check(await page.evaluate(() => !document.documentElement.classList.contains("class")), "Escape does not leave the class");
  // On an old projector too all three steps are there.
  await page.setViewport({ width: 1024, height: 768 });
  await page.click("#lower");
  await page.click("#class");
  check(await page.evaluate(() => [...document.querySelectorAll("#said li, #blade-along, .board input[type=range]")].every((e) => {
    const b = e.getBoundingClientRect();
    return b.height > 0 && b.bottom <= innerHeight + 1 && b.right <= innerWidth + 1;
  }) && document.getElementById("said").children.length === 3), "an old projector does not show it all");
  await picture(page, "lesson-class-1024");
  await page.click("#class");
  await page.setViewport({ width: 1920, height: 1080 });
};

// What is moved stays beside what it moves: on a phone, in a window at 200 %, on a desk.
const sizes = async ({ browser, folder, check, picture }) => {
  for (const size of [phone, { name: "at 200 %", width: 640, height: 450 }, { name: "phone lying", width: 844, height: 390 }, desktop]) {
    const { page } = await open(browser, join(folder, "lesson.html"), size, "light");
    await put(page, "turned", 2);
    for (const id of ["turned", "airspeed"]) {
      await page.$eval("#" + id, (e) => e.scrollIntoView({ block: "end" }));
      const seen = await page.evaluate((name) => {
        const at = (e) => document.querySelector(e).getBoundingClientRect();
        const [lines, cut, slider] = [at("#load-lines"), at("#blade-cut"), at("#" + name)];
        const apart = (a) => a.bottom <= slider.top + 1 || a.right <= slider.left + 1;
        return lines.top >= -1 && cut.bottom <= innerHeight + 1 && apart(lines) && apart(cut) && apart(at("#said")) && slider.bottom <= innerHeight + 1;
      }, id);
      check(seen, `${size.name}: ${id} hides the pictures, or is hidden by them`);
    }
    await picture(page, `lesson-${size.name.replace(/\W+/g, "-")}-sliders`);
    await page.close();
  }
};

// With motion: the point slides, and may be stopped; printed before anything is moved, it tells its own.
const moving = async ({ browser, folder, check }) => {
  const { page, faults } = await open(browser, join(folder, "lesson.html"), desktop, "light");
  check(await text(page, "play") === "Play", "there is nothing to play");
  await page.click("#play");
  check((await said(page)).length === 1 && await text(page, "play") === "Stop", "playing does not begin with the cause");
  await page.click("#play");
  check((await said(page)).length === 3 && await text(page, "play") === "Play", "playing cannot be stopped");
  await page.click("#step");
  await page.click("#step");
  // Every place the point is drawn at; read in the page, so that a machine out of breath misses none.
  await page.evaluate(() => {
    const mark = () => Number(document.querySelector("#load-lines circle.mark").getAttribute("cx"));
    document.getElementById("step").click();
    window.places = [mark()];
    const look = () => { window.places.push(mark()); requestAnimationFrame(look); };
    requestAnimationFrame(look);
  });
  await page.waitForFunction(() => document.getElementById("play").textContent === "Play" && window.places.at(-1) < window.places[0] - 2 &&
    window.places.at(-1) === window.places.at(-5));
  const places = await page.evaluate(() => window.places);
  const between = places.filter((x) => x < places[0] && x > places.at(-1));
  check(between.length > 0 && between.every((x, i) => i === 0 || x <= between[i - 1]), "the point does not slide on");
  await page.click("#again");
  await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
  check((await said(page)).length === 3 && await page.evaluate(() => [...document.querySelectorAll("details")].every((e) => e.open)), "on paper nothing is told");
  await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  check((await said(page)).length === 1 && await shown(page, "turned-value") === 0, "after printing it is not as it was");
  check(!faults.length, `lesson, moving: ${faults.join("; ")}`);
  await page.close();
};

export const lesson = async ({ browser, program, cases, folder, check, picture }) => {
  const demo = readFileSync(join(cases, "demo.toml"), "utf8");
  const { page, faults } = await open(browser, join(folder, "lesson.html"), { width: 1920, height: 1080 }, "light");
  await page.emulateMediaFeatures([{ name: "prefers-reduced-motion", value: "reduce" }]);
  const worst = await against({ page, program, demo, folder, check });
  for (const file of ["lesson.html", "lesson-bare.html"]) {
    const { page: one } = await open(browser, join(folder, file), phone, "light");
    const { wrong, seen } = await sentences(one);
    wrong.forEach((what) => check(false, `${file}: ${what}`));
    check(seen === "less more much same slows speeds", `${file}: of all that can be said only "${seen}" was`);
    await one.close();
  }
  await byHand({ page, check, picture });
  await together({ page, check, picture });
  const took = await page.evaluate(() => {
    const began = performance.now(), slider = document.getElementById("turned");
    for (let i = 0; i < 20; i++) { slider.value = i / 10; slider.dispatchEvent(new Event("input")); }
    return (performance.now() - began) / 20;
  });
  console.log(`one move of a slider takes ${took.toFixed(1)} ms`);
  check(!faults.length, `lesson: ${faults.join("; ")}`);
  await page.close();
  await sizes({ browser, folder, check, picture });
  await moving({ browser, folder, check });
  return worst;
};
