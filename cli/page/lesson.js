// The lesson: sliders, steps and guesses. What it shows is worked out in lesson_model.js, said in lesson_words.js and
// drawn in lesson_lines.js and lesson_blade.js. Board, sentence and ghost speak of one start: where the slider that
// moved last was taken up.
"use strict";
(() => {
  const M = window.lesson, E = M.engine;
  const $ = (id) => document.getElementById(id);
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  const unit = { turned: M.degree, diameter: 0.01, ratio: 1, height: 1, airspeed: 1 / 3.6 };
  const places = { turned: 1, diameter: 1, ratio: 2, height: 0, airspeed: 0 };
  const current = () => Object.fromEntries(M.knobs.map((k) => [k, Number($(k).value) * unit[k]]));
  // The value a slider begins with, without the rounding of its text.
  const exact = (s) => Object.fromEntries(M.knobs.map((k) => [k, M.alike(s[k], M.start[k]) ? M.start[k] : s[k]]));

  const state = { before: { ...M.start }, now: { ...M.start }, active: null, flying: false, stage: 3, moved: 1,
    held: false, question: 0, verdict: "" };
  const begun = M.answer(M.start, 0);

  // ---- what is shown

  const show = (id, text) => { if ($(id).textContent !== text) $(id).textContent = text; };
  const changed = (now, was, digits) => {
    const text = now.toFixed(digits), by = Number((Number(text) - Number(was.toFixed(digits))).toFixed(digits));
    return by === 0 ? text : `${text} (${by > 0 ? "+" : "−"}${Math.abs(by).toFixed(digits)})`;
  };
  const figures = [["rpm", (f) => f.rotation * M.rpm, 0], ["thrust", (f) => f.thrust, 0], ["power", (f) => f.power / 1000, 1]];
  const row = (id, found, was) => figures.forEach(([what, f, digits]) => show(`${id}-${what}`, state.held ? "?"
    : !found ? "none" : was ? changed(f(found), f(was), digits) : f(found).toFixed(digits)));
  const climbs = (up, was) => state.held ? "?" : up === null ? "none" : up < -0.005 ? `sinks ${(-up).toFixed(2)} m/s`
    : `${was === null || was < -0.005 ? Math.abs(up).toFixed(2) : changed(up, was, 2)} m/s`;
  // Standing still and in flight, each with its speed; over the limit first.
  const warning = (found) => {
    const limit = E.rotation_limit, peak = E.peak_torque_rotation;
    if (state.held) return "";
    const where = ["Standing still", "in flight"];
    const told = (passes, words) => {
      const those = found.flatMap((f, i) => f && passes(M.whole(f.rotation)) ? [`${where[i]} ${M.whole(f.rotation)}`] : []);
      return those.length ? [`${those.join(" and ").replace(/^./, (c) => c.toUpperCase())} rpm: ${words}`] : [];
    };
    return [...(limit ? told((speed) => speed > M.whole(limit),
      `over the maker's limit of ${M.whole(limit)} rpm: throttle back, and do not fly it so.`) : []),
    ...told((speed) => speed < M.whole(peak),
      `below the speed of greatest torque (${M.whole(peak)} rpm): lugging, hot and rough.`)].join(" ");
  };
  const say = (e) => {
    const lines = state.held ? ["Guess first: then the answer comes in three steps."]
      : e ? M.steps(e, state.before, state.now).slice(0, state.stage)
        : ["Move a slider: the load line moves, and the crossing with it. Or make a guess first."];
    const list = $("said");
    while (list.children.length > lines.length) list.lastChild.remove();
    lines.forEach((text, i) => {
      const item = list.children[i] ?? list.appendChild(document.createElement("li"));
      if (item.textContent !== text) item.textContent = text;
      item.value = i + 1;
      item.classList.toggle("now", i === lines.length - 1);
    });
    list.classList.toggle("plain", !e || state.held);
  };
  const sliders = (now) => M.knobs.forEach((k) => {
    const value = (now[k] / unit[k]).toFixed(places[k]), number = Number(value);
    const signed = k === "turned" && number > 0 ? `+${value}` : number === 0 ? value.replace("-", "") : value.replace("-", "−");
    show(k + "-value", signed);
    $(k).setAttribute("aria-valuetext", `${signed} ${$(k).dataset.said}`);
  });
  // What the pictures need to know.
  const seen = () => {
    const { before, now, flying } = state, e = M.explain(before, now, flying);
    const at = flying || (e && e.moving);
    const still = M.answer(now, 0), flight = M.answer(now, now.airspeed);
    const here = at ? flight : still;
    let cut = null, ghost = null;
    if (e && e.a) {
      cut = state.held ? e.cut_before : state.stage === 3 && e.b ? e.cut_now : e.cut_then;
      ghost = state.held ? null : e.cut_before;
    } else if (here) cut = M.cut(M.scene(now), here.rotation, at ? now.airspeed : 0);
    return { ...state, e, flying: at, still, flight, cut, ghost };
  };
  // So much pulls the blade as the lesson begins: its arrow keeps its scale.
  const pull = begun ? Math.abs(M.cut(M.scene(M.start), begun.rotation, 0).pull) : 1000;
  const draw = (shown = seen()) => {
    M.drawLines($("load-lines"), shown);
    M.drawCut($("blade-cut"), { ...shown, pull: Math.max(pull, shown.cut?.pull ?? 0) });
    M.drawStrip($("blade-along"), shown);
    return shown;
  };
  const pictures = ["load-lines", "blade-cut", "blade-along"];
  const remeasure = () => pictures.forEach((id) => M.drawing.measure($(id)));
  const update = () => {
    const { before, now } = state;
    sliders(now);
    const shown = draw(), { e, still, flight } = shown;
    show("flight", `at ${(now.airspeed / unit.airspeed).toFixed(0)} km/h`);
    row("static", still, e && M.answer(before, 0));
    row("flight", flight, e && M.answer(before, before.airspeed));
    if (M.hasCraft) show("climb", climbs(M.rate(now), e ? M.rate(before) : null));
    show("verdict", state.verdict);
    show("limit", warning([still, flight]));
    say(e);
    $("view-flight").checked = shown.flying;
    $("view-still").checked = !shown.flying;
    $("step").disabled = $("from-here").disabled = !e || state.held;
    $("play").disabled = state.held;
  };

  // ---- steps

  let timer = 0, frame = 0;
  const stop = () => {
    clearTimeout(timer);
    cancelAnimationFrame(frame);
    timer = frame = 0;
    show("play", calm.matches ? "Jump" : "Play");
  };
  const slide = () => {
    const from = performance.now(), took = 1800;
    const move = (time) => {
      const share = Math.min(1, Math.max(0, (time - from) / took));
      state.moved = share * share * (3 - 2 * share);
      if (share < 1) { M.drawLines($("load-lines"), seen()); frame = requestAnimationFrame(move); }
      else { stop(); update(); }
    };
    frame = requestAnimationFrame(move);
  };
  const stage = (n) => {
    state.stage = n;
    state.moved = n === 3 && !calm.matches ? 0 : 1;
    update();
    if (n === 3 && !calm.matches) slide();
  };
  const play = () => {
    if (timer || frame) { stop(); state.stage = 3; state.moved = 1; update(); return; }
    if (!M.explain(state.before, state.now, state.flying)) put(questions[0]);
    if (calm.matches) { stage(3); return; }
    show("play", "Stop");
    stage(1);
    timer = setTimeout(() => { stage(2); timer = setTimeout(() => { timer = 0; stage(3); }, 3500); }, 3500);
  };

  // ---- guesses

  const within = (k, value) => {
    const input = $(k), at = value / unit[k];
    return Math.min(Number(input.max), Math.max(Number(input.min), at));
  };
  const questions = [
    { text: "Blades two degrees coarser, standing still", knob: "turned", to: 2 * M.degree },
    { text: "From standing still to flight", knob: "airspeed", from: 0, to: M.start.airspeed },
    { text: "A propeller a twentieth larger, standing still", knob: "diameter", to: 1.05 * M.start.diameter },
    { text: "A reduction a tenth higher, standing still", knob: "ratio", to: 1.1 * M.start.ratio },
    { text: "The field as high as the slider goes, standing still", knob: "height", to: Infinity },
    { text: "Blades two degrees finer, standing still", knob: "turned", to: -2 * M.degree },
  ];
  // The sliders as a question has them.
  function put(q) {
    M.knobs.forEach((k) => { $(k).value = M.start[k] / unit[k]; });
    if (q.from !== undefined) $(q.knob).value = q.from / unit[q.knob];
    state.before = exact(current());
    $(q.knob).value = within(q.knob, q.to);
    state.now = exact(current());
    state.active = q.knob;
    state.flying = q.knob === "airspeed";
  }
  const ask = () => show("question", state.held ? "The slider has moved: how does the engine turn now?"
    : `${questions[state.question].text}: how does the engine turn?`);
  const guess = (said) => {
    stop();
    if (state.held) state.held = false;
    else put(questions[state.question]);
    const e = M.explain(state.before, state.now, state.flying);
    const told = ["lower", "the same", "higher"];
    state.verdict = !e || !e.a || !e.b ? "" : M.turn(e) === said
      ? `You guessed: ${told[said + 1]}. So it is: ${M.whole(e.b.rotation)} instead of ${M.whole(e.a.rotation)} rpm.`
      : `You guessed: ${told[said + 1]}. It is ${told[M.turn(e) + 1]}: ${M.whole(e.b.rotation)} instead of ${M.whole(e.a.rotation)} rpm.`;
    ask();
    play();
  };

  // ---- what a hand does

  const moved = (k) => {
    stop();
    if (state.active !== k) { state.before = state.now; state.active = k; }
    state.now = exact(current());
    if (k === "airspeed") state.flying = true;
    Object.assign(state, { stage: 3, moved: 1, verdict: "", held: $("hold").checked && !!M.explain(state.before, state.now, state.flying) });
    ask();
    update();
  };
  const begin = (from) => {
    stop();
    Object.assign(state, { before: from, now: from, active: null, stage: 3, moved: 1, verdict: "", held: false });
    ask();
    update();
  };
  M.knobs.forEach((k) => $(k).addEventListener("input", () => moved(k)));
  $("again").addEventListener("click", () => {
    M.knobs.forEach((k) => { $(k).value = M.start[k] / unit[k]; });
    state.flying = false;
    begin({ ...M.start });
  });
  $("from-here").addEventListener("click", () => begin(state.now));
  $("play").addEventListener("click", play);
  const next = () => { stop(); stage(state.stage % 3 + 1); };
  $("step").addEventListener("click", next);
  for (const [id, said] of [["lower", -1], ["same", 0], ["higher", 1]]) $(id).addEventListener("click", () => guess(said));
  $("another").addEventListener("click", () => {
    state.question = (state.question + 1) % questions.length;
    $("again").click();
  });
  for (const [id, flying] of [["view-still", false], ["view-flight", true]])
    $(id).addEventListener("change", () => { state.flying = flying; update(); });

  // ---- a class

  const root = document.documentElement;
  const inClass = (on) => {
    root.classList.toggle("class", on);
    show("class", on ? "Leave the full screen" : "Fill the screen, for a class");
    $("keys").hidden = !on;
    if (on) root.requestFullscreen?.().catch(() => {});
    else if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    remeasure();
    update();
  };
  $("class").addEventListener("click", () => inClass(!root.classList.contains("class")));
  document.addEventListener("fullscreenchange", () => { if (!document.fullscreenElement && root.classList.contains("class")) inClass(false); });
  document.addEventListener("keydown", (e) => {
    if (!root.classList.contains("class") || e.ctrlKey || e.altKey || e.metaKey) return;
    const act = { Escape: () => inClass(false), p: play, s: () => { if (!$("step").disabled) next(); }, 0: () => $("again").click(),
      h: () => $("from-here").click(), l: () => guess(-1), e: () => guess(0), r: () => guess(1) }[e.key];
    const slider = $(M.knobs[Number(e.key) - 1] ?? "");
    if (act) act();
    else if (slider) slider.focus();
    else return;
    e.preventDefault();
  });

  // ---- the page

  let drawn = 0;
  const sized = new ResizeObserver(() => {
    cancelAnimationFrame(drawn);
    drawn = requestAnimationFrame(() => { remeasure(); draw(); });
  });
  pictures.forEach((id) => sized.observe($(id)));
  // On paper the answers stand open, and a lesson that nobody moved tells its own.
  let untouched = false;
  window.addEventListener("beforeprint", () => {
    document.querySelectorAll("details").forEach((e) => { e.open = true; });
    stop();
    untouched = !M.explain(state.before, state.now, state.flying);
    if (untouched) put(questions[0]);
    Object.assign(state, { stage: 3, moved: 1 });
    update();
  });
  window.addEventListener("afterprint", () => { if (untouched) $("again").click(); });
  calm.addEventListener("change", stop);
  stop();
  ask();
  update();
})();
