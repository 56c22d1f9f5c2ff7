// The page: the case left, what the program answers right.
"use strict";
(() => {
  const el = (id) => document.getElementById(id);
  const made = (tag, attributes = {}, ...inside) => {
    const e = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes))
      if (name.startsWith("on")) e.addEventListener(name.slice(2), value);
      else if (value === true) e.setAttribute(name, "");
      else if (value !== false && value !== undefined) e.setAttribute(name, value);
    e.append(...inside);
    return e;
  };

  // ---- what is asked

  const questions = [
    { id: "compare", label: "Which one?", quick: ["--no-band", "--no-angles"],
      draft: ["--draws", "400", "--no-angles"] },
    { id: "match", label: "Rpm and thrust", quick: ["--no-band"] },
    { id: "lesson", label: "Why? (lesson)" },
    { id: "blade", label: "Blade" },
    { id: "curve", label: "Curves" },
    { id: "fit", label: "Readings" },
    { id: "trial", label: "Flights" },
  ];
  // An answer without ranges that took longer, ms, is followed by one with ranges from fewer draws before the whole.
  const long = 100;
  let asked = "compare";

  // ---- the form

  const fields = {
    air: ["The day", [["elevation", "Field above sea"], ["temperature", "Temperature there"],
      ["qnh", "QNH"], ["humidity", "Humidity"]]],
    engine: ["Engine", [["name", "Name"], ["rated", "Rated power"], ["peak_torque", "Greatest torque"],
      ["torque", "Torque curve"], ["rpm_limit", "Limit (the maker's)"], ["head_temperature", "Head, read"],
      ["head_limit", "Head limit"]]],
    drive: ["Reduction", [["ratio", "Engine turns per turn", true], ["teeth", "or teeth", true],
      ["efficiency", "Efficiency", true]]],
    craft: ["Craft", [["all_up_mass", "All-up mass"], ["trim_speed", "Trim speed"],
      ["glide_ratio", "Glide ratio", true]]],
    climb: ["Climb, above the field", [["from", "From"], ["to", "To"]]],
    cruise: ["Level flight", [["fuel", "Fuel an hour, read"]]],
    propeller: ["Propeller", [["name", "Name"], ["label", "Label"], ["diameter", "Diameter"],
      ["pitch", "Pitch"], ["blades", "Blades", true], ["chord", "Width at 3/4 radius"],
      ["section", "Section"], ["stations", "Stations"], ["mass", "Mass"]]],
    reading: ["Reading", [["propeller", "With"], ["static_speed", "Rpm, standing"],
      ["static_thrust", "Thrust, standing"], ["climb_speed", "Rpm in climb"], ["climb_rate", "Rate of climb"],
      ["cruise_speed", "Rpm, level flight"], ["cruise_fuel", "Fuel, level flight"],
      ["head_temperature", "Head"], ["noise_difference", "Louder beside"]]],
  };
  const examples = { elevation: "450 m", temperature: "24 degC", qnh: "1018 hPa", humidity: "50 %",
    rated: "15.4 kW at 7900 rpm", peak_torque: "19.6 N m at 7000 rpm", rpm_limit: "8500 rpm",
    head_temperature: "186 degC in climb", head_limit: "210 degC", ratio: "2.9", teeth: "[21, 61]",
    efficiency: "0.96", all_up_mass: "131 kg", trim_speed: "40 km/h", glide_ratio: "7.2", from: "100 m",
    to: "600 m", fuel: "3.6 L/h", label: "136 x 71 cm", diameter: "136 cm", pitch: "71 cm", blades: "2",
    chord: "7.6 cm", mass: "0.9 kg", static_speed: "7750 rpm", static_thrust: "720 N",
    climb_speed: "7620 rpm", climb_rate: "2.9 m/s", cruise_speed: "5100 rpm", cruise_fuel: "3.4 L/h",
    noise_difference: "-1.5 dB" };
  // Keys that a propeller described otherwise has no use for.
  const shown = (name, key, keys) => {
    if (keys.has(key)) return true;
    if (name === "engine") return !(key === "torque" || (keys.has("torque") && (key === "rated" || key === "peak_torque")));
    if (name === "drive" && (key === "ratio" || key === "teeth")) return !keys.has("ratio") && !keys.has("teeth");
    if (name !== "propeller") return true;
    const label = keys.has("label") || keys.has("pitch");
    if (key === "stations") return false;
    if (key === "section") return !label;
    if (["label", "pitch", "chord"].includes(key)) return !keys.has("stations") && !(key === "label" && keys.has("pitch")) && !(key === "pitch" && keys.has("label"));
    return !(key === "diameter" && keys.has("label"));
  };

  let text = "";
  let wrongLines = new Map();  // what is wrong in a line of the file

  // What stands in the form, table by table and row by row.
  const planOf = (all, names) => Object.entries(fields).flatMap(([name, [title, rows]]) => {
    const list = name === "propeller" || name === "reading";
    const found = all.filter((t) => t.name === name);
    if (!list && found.length === 0) found.push({ keys: new Map() });
    const tables = found.map((table, index) => ({ name, index, list,
      heading: name === "propeller" ? (index === 0 ? "Propeller flown now" : `Propeller ${index + 1}`)
        : list ? `${title} ${index + 1}` : title,
      rows: rows.filter(([key]) => shown(name, key, table.keys)).map(([key, label, plain]) => {
        const known = table.keys.get(key);
        const inFile = known && (!known.simple || (/^[[{]/.test(known.value) && !plain));
        const choice = name === "reading" && key === "propeller";
        return { key, plain, id: `${name}-${index}-${key}`, label: label === "or teeth" && known ? "Teeth" : label,
          wrong: known && wrongLines.get(known.line + 1), line: inFile ? known.line + 1 : 0,
          choices: !inFile && choice ? names : undefined, value: inFile ? undefined : known?.value ?? "" };
      }) }));
    return list ? [...tables, { name, rows: [], count: found.length }] : tables;
  });
  const fieldOf = (name, index, { key, plain, id, wrong, line, choices, value }) => {
    if (line) return made("button", { type: "button", id, onclick: () => goTo(line, 1) }, "in the case file");
    if (choices) {
      const list = made("select", { id, onchange: (e) => write(name, index, key, e.target.value, false) },
        ...choices.map((n) => made("option", { value: n }, n)));
      list.value = value;  // none where the file names none of them
      return list;
    }
    return made("input", { id, value, placeholder: examples[key] ? `such as ${examples[key]}` : "",
      class: wrong ? "wrong" : "", "aria-invalid": wrong ? "true" : undefined,
      "aria-describedby": wrong ? `${id}-wrong` : undefined,
      onchange: (e) => write(name, index, key, e.target.value.trim(), plain) });
  };
  const adder = (name, count, names) => made("p", {}, made("button", { type: "button", id: `add-${name}`,
    onclick: () => change(name === "propeller"
      ? caseText.add(text, name, [["name", `Propeller ${count + 1}`], ["label", "136 x 71 cm"], ["blades", "2", true]])
      : caseText.add(text, name, [["propeller", names[0] ?? ""], ["static_speed", "7500 rpm"]])) },
    name === "propeller" ? "Add a propeller" : "Add a reading"));
  let formShape = "";  // all of the form but what its fields hold
  const drawForm = () => {
    const form = el("form");
    const at = document.activeElement?.closest?.("#form") ? document.activeElement.id : null;
    const all = caseText.tables(text);
    const names = all.filter((t) => t.name === "propeller").map((t) => t.keys.get("name")?.value ?? "");
    const plan = planOf(all, names);
    const shape = JSON.stringify([names[0], plan], (key, value) => (key === "value" ? undefined : value));
    if (shape === formShape) {  // laid out anew it would keep a slow processor busy
      for (const { id, value } of plan.flatMap((part) => part.rows))
        if (value !== undefined && el(id).value !== value) el(id).value = value;
      return;
    }
    formShape = shape;
    form.replaceChildren(...plan.map(({ name, index, list, heading, rows, count }) => {
      if (heading === undefined) return adder(name, count, names);
      const less = list && made("button", { type: "button", class: "less", "aria-label": `Take out: ${heading}`,
        onclick: () => change(caseText.remove(text, name, index)) }, "take out");
      return made("fieldset", {}, made("legend", {}, heading), ...(less ? [less] : []), ...rows.map((row) =>
        made("div", { class: "row" }, made("label", { for: row.id }, row.label), fieldOf(name, index, row),
          ...(row.wrong ? [made("p", { id: `${row.id}-wrong`, class: "told" }, row.wrong)] : []))));
    }));
    if (at) el(at)?.focus();
  };

  const write = (name, index, key, value, plain) => change(caseText.set(text, name, index, key, value, plain));

  const goTo = (line, column) => {
    show("file");
    document.body.dataset.part = "case";
    const area = el("text");
    const lines = text.split("\n");
    const from = lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0);
    area.focus();
    area.setSelectionRange(from + Math.max(0, column - 1), from + (lines[line - 1] ?? "").length);
    const height = area.scrollHeight / Math.max(1, lines.length);
    area.scrollTop = Math.max(0, (line - 4) * height);
  };

  // ---- the program, in a worker that is let go when its answer is stale

  // By the browser itself where it can: much faster than letter by letter.
  const bytesOf = (base64) => {
    if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
    const letters = atob(base64), bytes = new Uint8Array(letters.length);
    for (let i = 0; i < letters.length; i++) bytes[i] = letters.charCodeAt(i);
    return bytes;
  };
  // A part of the page as it was before it was packed; let go of here, for it is asked for once.
  const unpacked = (id, type) => {
    const part = el(id);
    const stream = new Blob([bytesOf(part.textContent)]).stream().pipeThrough(new DecompressionStream("gzip"));
    part.remove();
    return new Response(stream, { headers: { "Content-Type": type } });
  };
  let module = null, keeper = null, files = [], workerUrl = null, worker = null, busy = false, number = 0, wanted = null;

  const hire = () => {
    worker?.terminate();
    worker = new Worker(workerUrl);
    worker.postMessage({ module, files });
    worker.onmessage = ({ data }) => {
      busy = false;
      if (data.id === number) tell(data);
      const next = wanted;
      wanted = null;
      if (next) send(next);
    };
    worker.onerror = (e) => {
      busy = false;
      say(`The program could not be started: ${e.message}`);
    };
    busy = false;
  };
  const send = (job) => {
    busy = true;
    worker.postMessage(job);
  };
  const request = (words, more) => {
    const job = { id: ++number, words, text, page: true };
    Object.assign(job, more);
    if (busy) hire();  // what it works on is stale
    send(job);
    return job;
  };

  // ---- asking and telling

  const say = (words) => { el("state").textContent = words; };
  const question = () => questions.find((q) => q.id === asked);
  // What is being worked out: `quick`, `draft` or the `whole`.
  // The next is begun when this one is drawn: on a slow processor both at once would keep the first from being seen.
  let stage = "whole", following = null;
  const work = (next) => {
    const q = question();
    stage = next;
    following = null;
    request([q.id, "/case/case.toml", ...(q[next] ?? [])]);
  };
  const ask = () => {
    if (!module) return;
    following = null;
    clearTimeout(resting);
    say("Working it out …");
    work(question().quick ? "quick" : "whole");
  };

  // The answer in its frame, with the script that keeps its reader's place, which its policy is told of.
  let drawn = "", drawnFor = "", place = null, onPaper = "", printing = false, resting = 0;
  const draw = (page) => {
    if (drawnFor !== asked) place = null;
    drawn = page;
    drawnFor = asked;
    onPaper = "";
    // What needs scripts waits for the ranges, its place kept: a library to draw with takes longer than all the rest.
    // So does what lies below, unless its reader has gone there.
    const later = "main > section { content-visibility: auto; contain-intrinsic-size: auto 30rem; }";
    const now = stage !== "quick" ? page : page.replace(/<script[^]*<\/script>/, "")
      .replace("</head>", place?.top ? "</head>" : `<style>${later}</style></head>`);
    const end = now.lastIndexOf("</body>");
    el("page").srcdoc = now.slice(0, end).replace(/script-src ([^;]*)/, (all, known) =>
      `script-src ${known === "'none'" ? "" : known} ${keeper.hash}`) + `<script>${keeper.text}<\/script>` + now.slice(end);
  };
  const framed = () => {
    const frame = el("page").contentWindow;
    if (place) frame.postMessage({ place }, "*");
    if (following) setTimeout(() => following && work(following), 0);
    // What scripts draw is asked for once all is still; on a dark ground, where it would be seen to change, only to print.
    const light = !matchMedia("(prefers-color-scheme: dark)").matches;
    if (stage === "whole" && light && drawn.includes("<script"))
      resting = setTimeout(() => frame.postMessage({ paper: true }, "*"), 2000);
  };
  window.addEventListener("message", ({ data, source }) => {
    if (source !== el("page").contentWindow) return;
    if (data.place) place = data.place;
    if (!data.paper) return;
    onPaper = data.paper;
    if (printing) window.print();
    printing = false;
  });
  // On paper stands the answer, not its frame: laid out anew, as many sheets as it takes.
  window.addEventListener("beforeprint", () => {
    const read = (html) => new DOMParser().parseFromString(html, "text/html");
    const paper = el("paper").shadowRoot ?? el("paper").attachShadow({ mode: "open" });
    paper.replaceChildren(...read(drawn).querySelectorAll("head > style"), made("style", {}, "img { max-width: 100%; height: auto; }"),
      ...read(onPaper || drawn).querySelectorAll("main"));
  });

  const faultLine = /^\/case\/case\.toml:(\d+):(\d+): (.*)$/;
  const showFaults = (err) => {
    const faults = err.split("\n").filter(Boolean).map((line) => {
      const at = faultLine.exec(line);
      return at ? { line: +at[1], column: +at[2], words: at[3] }
        : { words: line.replace(/^loadline( \w+)?: /, "").replaceAll("/case/case.toml", "the case") };
    });
    const lines = faults.filter((f) => f.line).map((f) => [f.line, f.words.replace(/^\w+: /, "")]);
    const marked = lines.join() !== [...wrongLines].join();
    wrongLines = new Map(lines);
    if (marked) drawForm();
    const list = el("faults");
    list.hidden = faults.length === 0;
    list.replaceChildren(...faults.map((f) => made("li", {}, f.line
      ? made("button", { type: "button", onclick: () => goTo(f.line, f.column) }, `Line ${f.line}: ${f.words}`) : f.words)));
    return faults.length;
  };

  const tell = (answer) => {
    const wrong = showFaults(answer.status === 0 ? "" : answer.err);
    el("page").hidden = !answer.page;
    if (!answer.page) {
      drawn = "";
      say(wrong ? "No answer: what is wrong stands with the case." : "No answer.");
      el("page").removeAttribute("srcdoc");
      return;
    }
    draw(answer.page);
    if (stage === "quick") {
      say("Drawn without ranges; working them out …");
      following = answer.took > long && question().draft ? "draft" : "whole";
      return;
    }
    if (stage === "draft") {
      say("Ranges from a fifth of the draws; working out the others …");
      following = "whole";
      return;
    }
    say(answer.status === 0 ? "" : "There is no full answer: the page says why.");
  };

  // ---- the case, wherever it comes from

  let keeping = 0;
  const packed = async (t) => {
    const bytes = new Uint8Array(await new Response(
      new Blob([t]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer());
    let s = "";
    for (const b of bytes) s += String.fromCharCode(b);
    return btoa(s).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
  };
  const lettersOf = (code) => {
    const base64 = code.replaceAll("-", "+").replaceAll("_", "/");
    return bytesOf(base64.padEnd(4 * Math.ceil(base64.length / 4), "="));
  };
  const opened = async (code) => {
    return new Response(new Blob([lettersOf(code)]).stream().pipeThrough(new DecompressionStream("deflate-raw"))).text();
  };
  const link = async () => `#q=${asked}&c=${await packed(text)}`;
  const keep = () => {
    clearTimeout(keeping);
    keeping = setTimeout(async () => {
      try { localStorage.setItem("loadline-case", await link()); } catch { /* not allowed here */ }
    }, 500);
  };
  const fromLink = async (hash) => {
    // Packed as this page does it (c), or as a written page carries it (t).
    const q = /[#&]q=([a-z]+)/.exec(hash), c = /[#&]([ct])=([A-Za-z0-9_-]+)/.exec(hash);
    if (!c) return false;
    try {
      text = c[1] === "c" ? await opened(c[2]) : new TextDecoder().decode(lettersOf(c[2]));
    } catch {
      el("told").textContent = "The link is cut short: ask for it again.";
      return false;
    }
    if (q && questions.some((known) => known.id === q[1])) asked = q[1];
    return true;
  };

  let waiting = 0;
  const change = (now, from) => {
    if (now === text) return;
    text = now;
    if (from !== "file") el("text").value = text;
    if (from !== "form") drawForm();
    keep();
    if (module) say("Working it out …");
    clearTimeout(waiting);
    waiting = setTimeout(ask, from === "file" ? 500 : 60);
  };

  const show = (how) => {
    for (const [name, tab, pane] of [["form", "as-form", "form"], ["file", "as-file", "text-pane"]]) {
      el(tab).setAttribute("aria-selected", String(name === how));
      el(tab).tabIndex = name === how ? 0 : -1;
      el(pane).hidden = name !== how;
    }
  };

  const choose = (id) => {
    asked = id;
    for (const tab of el("questions").children) {
      tab.setAttribute("aria-selected", String(tab.id === `ask-${id}`));
      tab.tabIndex = tab.id === `ask-${id}` ? 0 : -1;
    }
    keep();
    ask();
  };

  // The arrow keys move among tabs, as the pattern of ARIA has it.
  const arrows = (list, act) => list.addEventListener("keydown", (e) => {
    const tabs = [...list.querySelectorAll('[role="tab"]')];
    const step = { ArrowRight: 1, ArrowLeft: -1 }[e.key];
    if (!step) return;
    const next = tabs[(tabs.indexOf(document.activeElement) + step + tabs.length) % tabs.length];
    next.focus();
    act(next);
    e.preventDefault();
  });

  const begin = async () => {
    document.body.dataset.part = "case";
    el("questions").append(...questions.map((q) => made("button", { type: "button", role: "tab", id: `ask-${q.id}`,
      "aria-controls": "page", onclick: () => { choose(q.id); document.body.dataset.part = "answer"; } }, q.label)));
    el("as-form").onclick = () => { drawForm(); show("form"); };
    el("as-file").onclick = () => show("file");
    arrows(el("as-form").parentElement, (tab) => tab.click());
    arrows(el("questions"), (tab) => tab.click());
    el("to-case").onclick = () => { document.body.dataset.part = "case"; };
    el("to-answer").onclick = () => { document.body.dataset.part = "answer"; };
    el("text").oninput = () => change(el("text").value, "file");
    el("form").onsubmit = (e) => e.preventDefault();
    el("open").onclick = () => el("file").click();
    el("file").onchange = async () => {
      const opened = [...el("file").files];
      el("file").value = "";
      const others = opened.filter((f) => !f.name.endsWith(".toml"));
      const one = opened.find((f) => f.name.endsWith(".toml"));
      for (const f of others) {
        const path = `/case/${f.name}`;
        files = files.filter(([known]) => known !== path);
        files.push([path, new Uint8Array(await f.arrayBuffer())]);
      }
      if (others.length && module) hire();
      const names = opened.map((f) => f.name).join(", ");
      el("told").textContent = names ? `Opened ${names}.` : "";
      if (one) {
        el("ready").value = "";
        change(await one.text());
      } else if (others.length) ask();
    };
    el("save").onclick = () => {
      const url = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
      const a = made("a", { href: url, download: "mine.toml" });
      a.click();
      setTimeout(() => URL.revokeObjectURL(url), 1000);
      el("told").textContent = "Saved as mine.toml.";
    };
    el("print").onclick = () => {
      printing = drawn !== "";
      if (!printing) el("told").textContent = "There is no answer to print.";
      el("page").contentWindow.postMessage({ paper: true }, "*");
    };
    el("page").onload = framed;
    el("share").onclick = async () => {
      location.hash = await link();
      let copied = false;
      try { await navigator.clipboard.writeText(location.href); copied = true; } catch { /* not allowed here */ }
      el("told").textContent = copied ? "The address was copied: it holds the case."
        : "The address above now holds the case: copy it.";
    };
    const compiling = WebAssembly.compileStreaming(unpacked("program", "application/wasm"));
    compiling.catch(() => {});  // told where it is waited for
    const parts = await unpacked("glue", "application/json").json();
    keeper = { text: parts.keeper, hash: parts.keeperHash };
    files = [...Object.entries(parts.airfoils), ...Object.entries(parts.beside)];
    workerUrl = URL.createObjectURL(new Blob([parts.glue], { type: "text/javascript" }));
    const cases = Object.entries(parts.cases);
    const called = { labels: "new, from labels" };
    el("ready").append(made("option", { value: "" }, "mine"),
      ...cases.map(([name]) => made("option", { value: name }, called[name] ?? name)));
    el("ready").onchange = () => {
      const chosen = parts.cases[el("ready").value];
      if (chosen) change(chosen);
    };
    let kept = null;
    try { kept = localStorage.getItem("loadline-case"); } catch { /* not allowed here */ }
    if (!(await fromLink(location.hash)) && !(kept && await fromLink(kept))) {
      text = parts.cases.paraglider ?? cases[0][1];
      el("ready").value = "paraglider";
    }
    el("text").value = text;
    drawForm();
    say("Making the program ready …");
    module = await compiling;
    hire();
    choose(asked);
  };
  window.addEventListener("hashchange", async () => {
    const before = text;
    if (await fromLink(location.hash) && text !== before) {
      el("text").value = text;
      drawForm();
      choose(asked);
    }
  });
  begin().catch((fault) => say(`This browser cannot run the program (${fault.message}).`));
})();
