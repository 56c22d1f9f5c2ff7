// The picture of the load lines: what the engine gives, what the blades ask, the line before as a ghost, and the way
// from the old crossing to the new one. In SVG with the classes of page.css, so that it takes the page's colours.
"use strict";
(() => {
  const M = window.lesson, E = M.engine;
  // A piece of a drawing.
  const made = (kind, attributes, text) => {
    const e = document.createElementNS("http://www.w3.org/2000/svg", kind);
    for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, value);
    if (text !== undefined) e.textContent = text;
    return e;
  };
  // How large a picture is shown and its letters are: asked only when that may have changed, since asking costs more
  // than drawing.
  const sizes = new WeakMap();
  const measure = (svg) => {
    const box = svg.getBoundingClientRect(), style = getComputedStyle(svg);
    sizes.set(svg, { width: Math.max(200, box.width || 600), height: Math.max(80, box.height || 300),
      letter: parseFloat(style.fontSize), family: style.fontFamily });
  };
  // Empties a picture and gives it the size it is shown in.
  const sheet = (svg) => {
    if (!sizes.has(svg)) measure(svg);
    const { width, height, letter, family } = sizes.get(svg);
    svg.replaceChildren();
    svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    return { svg, width, height, letter, family, boxes: [],
      put: (kind, attributes, text) => svg.appendChild(made(kind, attributes, text)) };
  };
  const pen = document.createElement("canvas").getContext("2d");
  const wide = (s, text, strong) => {
    pen.font = `${strong ? "600 " : ""}${s.letter}px ${s.family}`;
    return pen.measureText(text).width;
  };
  const d = (points) => points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
  const meet = (a, b) => Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x) > -5 &&
    Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y) > 0;
  // Words at the first of several places where they lie over nothing written before, and within the sheet.
  const words = (s, text, look, places) => {
    const width = wide(s, text, look.includes("strong")), height = 1.15 * s.letter;
    for (const [at, y, anchor] of places) {
      const x = at - (anchor === "end" ? width : anchor === "middle" ? width / 2 : 0);
      const b = { x, y: y - 0.9 * s.letter, width, height };
      if (b.x < -0.5 || b.x + width > s.width + 0.5 || b.y < -1 || b.y + height > s.height + 1) continue;
      if (s.boxes.some((other) => meet(b, other))) continue;
      s.boxes.push(b);
      s.put("text", { class: look, x: at.toFixed(1), y: y.toFixed(1), "text-anchor": anchor }, text);
      return true;
    }
    return false;
  };
  const arrow = (s, x1, y1, x2, y2, look) => {
    const long = Math.hypot(x2 - x1, y2 - y1);
    if (long < 1) return;
    const head = Math.min(0.7 * s.letter, 0.6 * long), ux = (x2 - x1) / long, uy = (y2 - y1) / long;
    s.put("line", { x1, y1, x2: x2 - 0.7 * head * ux, y2: y2 - 0.7 * head * uy, class: look });
    const at = (back, aside) => [x2 - back * ux - aside * uy, y2 - back * uy + aside * ux];
    s.put("path", { d: d([[x2, y2], at(head, 0.45 * head), at(head, -0.45 * head)]) + "Z", class: `mark ${look}` });
  };

  // ---- the frame, wide enough for every crossing wherever a slider takes it

  const first = [M.answer(M.start, 0), M.answer(M.start, M.start.airspeed)].filter(Boolean);
  const begun = first.map((f) => f.rotation * M.rpm);
  const lowest = E.lowest * M.rpm, highest = E.highest * M.rpm;
  const usual = {
    left: Math.floor((begun.length ? Math.max(lowest, 0.6 * Math.min(...begun)) : lowest) / 500) * 500,
    right: Math.ceil((begun.length ? Math.min(1.2 * Math.max(...begun), highest) : highest) / 500) * 500,
    top: 1.45 * Math.max(...Array.from({ length: 61 }, (_, i) =>
      M.given(M.scene(M.start), E.lowest + (E.highest - E.lowest) * i / 60))),
  };
  const frame = (points) => ({
    left: Math.min(usual.left, ...points.map((p) => Math.floor(0.93 * p.rotation * M.rpm / 500) * 500)),
    right: Math.max(usual.right, ...points.map((p) => Math.ceil(1.04 * p.rotation * M.rpm / 500) * 500)),
    top: Math.max(usual.top, ...points.map((p) => 1.12 * p.torque)),
  });
  const step = (span, count) => {
    const unit = 10 ** Math.floor(Math.log10(span / count));
    return [1, 2, 5, 10].map((k) => k * unit).find((k) => span / k <= count);
  };
  const axes = (s, f) => {
    const { width, height, letter } = s;
    const room = { left: 3.1 * letter, right: width - 0.5 * letter, top: 1.5 * letter, bottom: height - 2.9 * letter };
    const x = (w) => room.left + (w * M.rpm - f.left) / (f.right - f.left) * (room.right - room.left);
    const y = (t) => room.bottom - t / f.top * (room.bottom - room.top);
    const put = (value, at, upright, last) => {
      s.put("line", upright ? { x1: at, x2: at, y1: room.top, y2: room.bottom, class: "rule" }
        : { x1: room.left, x2: room.right, y1: at, y2: at, class: "rule" });
      words(s, String(value), "grey", upright ? [[at, room.bottom + 1.15 * letter, last ? "end" : "middle"]]
        : [[room.left - 0.4 * letter, at + 0.35 * letter, "end"]]);
    };
    const across = step(f.right - f.left, room.right - room.left < 24 * letter ? 4 : 8), up = step(f.top, height < 17 * letter ? 3 : 6);
    for (let n = Math.ceil(f.left / across) * across; n <= f.right; n += across)
      put(n, x(n / M.rpm), true, x(n / M.rpm) > room.right - 1.5 * letter);
    for (let t = 0; t <= f.top; t += up) put(t, y(t), false);
    words(s, "torque at the propeller shaft, N m", "grey", [[0, 1.0 * letter, "start"]]);
    words(s, "engine speed, rpm", "grey", [[room.right, height - 0.35 * letter, "end"]]);
    return { ...room, x, y, inside: (p) => p[0] >= room.left - 0.5 && p[0] <= room.right + 0.5 && p[1] >= room.top - 0.5 };
  };

  // ---- the lines

  // Of the blades at an airspeed, or of the engine (v null), within the frame.
  const line = (a, c, v) => {
    const points = [], from = Math.max(E.lowest, (a.x0 ?? 0));
    for (let i = 0; i <= 90; i++) {
      const w = from + (E.highest - from) * i / 90;
      const t = v === null ? M.given(c, w) : M.loads(c, w, v)?.torque;
      if (t !== undefined && t !== null) points.push([a.x(w), a.y(t), w]);
    }
    return points.filter(a.inside);
  };
  const beside = (s, points, order, text, look) => {
    // Along the line from its upper end, on one side and the other.
    const gap = 0.5 * s.letter, places = [];
    for (let k = points.length - 1; k >= 0; k -= 4)
      for (const side of order)
        places.push(side === "left" ? [points[k][0] - gap, points[k][1] + 0.9 * s.letter, "end"]
          : [points[k][0] + gap, points[k][1] + 0.9 * s.letter, "start"]);
    words(s, text, look, places);
  };
  // Solid where the engine's figures reach, dashed beyond them.
  const engineLine = (s, a, c, look) => {
    const points = line(a, c, null);
    const parts = [points.filter((p) => p[2] <= E.first_figure), points.filter((p) => p[2] >= E.first_figure && p[2] <= E.last_figure),
      points.filter((p) => p[2] >= E.last_figure)];
    parts.forEach((part, i) => { if (part.length > 1) s.put("path", { d: d(part), class: `${look}${i === 1 ? "" : " dashed"}` }); });
    return points;
  };
  const uprights = (s, a) => {
    const put = (w, kind, look, text, row) => {
      const x = a.x(w);
      if (x < a.left || x > a.right) return;
      s.put("line", { x1: x, x2: x, y1: a.top, y2: a.bottom, class: `${kind} ${look}` });
      const y = a.bottom - (0.5 + 1.3 * row) * s.letter;
      words(s, text, look, [[x + 0.4 * s.letter, y, "start"], [x - 0.4 * s.letter, y, "end"]]);
    };
    put(E.peak_torque_rotation, "peak", "grey", `greatest torque ${M.whole(E.peak_torque_rotation)}`, 0);
    if (E.rotation_limit) put(E.rotation_limit, "limit", "warned", `maker's limit ${M.whole(E.rotation_limit)}`, 1);
  };
  // What was asked at the old speed, and the way to where both agree; `moved` of it is gone.
  const way = (s, a, e, stage, moved) => {
    const x0 = a.x(e.a.rotation), y0 = a.y(e.a.torque);
    if (stage >= 2 && e.asked !== null && !M.hardly(e.more_asked)) {
      const y1 = Math.max(a.y(e.asked), a.top);
      arrow(s, x0, y0, x0, y1, "thick ink");
      const text = `asks ${M.percent(e.more_asked)} ${e.more_asked > 0 ? "more" : "less"}`;
      const beside = e.fall < 0 || !e.b ? ["start", "end"] : ["end", "start"];
      words(s, text, "ink strong", [0.5, 0.1, 0.9, -0.4].flatMap((k) => beside.map((anchor) =>
        [x0 + (anchor === "start" ? 0.6 : -0.6) * s.letter, y0 + k * (y1 - y0) + 0.35 * s.letter, anchor])));
    }
    if (stage < 3 || !e.b) return { rotation: e.a.rotation, torque: e.a.torque };
    const to = e.a.rotation + (e.b.rotation - e.a.rotation) * moved;
    const slid = Array.from({ length: 31 }, (_, i) => e.a.rotation + (to - e.a.rotation) * i / 30)
      .map((w) => [a.x(w), a.y(M.given(e.is, w))]);
    s.put("path", { d: d(slid), class: "slid ink" });
    return moved < 1 ? { rotation: to, torque: M.given(e.is, to) } : e.b;
  };

  // shown: { before, now, e, stage 0 to 3, moved, held, flying, a and b standing and flying now }
  const draw = (svg, shown) => {
    const s = sheet(svg), { e, now, before, flying } = shown;
    const known = [shown.still, shown.flight, e?.a, e?.b].filter(Boolean);
    const a = axes(s, frame(known));
    uprights(s, a);
    const held = shown.held || !e, c = M.scene(held ? before : now), v = flying ? (held ? before : now).airspeed : 0;
    const other = flying ? 0 : (held ? before : now).airspeed;
    const own = flying ? "s1" : "s0", others = flying ? "s0" : "s1";  // a colour each, standing still and in flight
    const aside = line(a, c, other);
    if (aside.length > 1) s.put("path", { d: d(aside), class: `aside ${others}` });
    if (e && !held) {
      if (!M.hardly(e.more_given)) engineLine(s, a, e.was, "ghost grey");
      const ghost = line(a, e.was, e.v0);
      if (ghost.length > 1) s.put("path", { d: d(ghost), class: "ghost grey" });
      s.ghost = ghost;
    }
    const given = engineLine(s, a, c, "given ink");
    const asks = line(a, c, v);
    if (asks.length > 1) s.put("path", { d: d(asks), class: `asks ${own}` });
    const left = !e || e.b === undefined || !e.b || e.fall < 0;
    let mark = flying ? shown.flight : shown.still;
    if (e && !held && e.a) {
      mark = way(s, a, e, shown.stage, shown.moved);
      s.put("circle", { cx: a.x(e.a.rotation), cy: a.y(e.a.torque), r: 0.4 * s.letter, class: "open grey" });
      if (shown.stage >= 3 && !e.b) mark = null;
    } else if (e && held) mark = e.a;
    if (mark) {
      s.put("circle", { cx: a.x(mark.rotation), cy: a.y(mark.torque), r: 0.5 * s.letter, class: `mark ${own}` });
      const x = a.x(mark.rotation), y = a.y(mark.torque), l = s.letter;
      words(s, `${M.whole(mark.rotation)} rpm`, `${own} strong`, [[x - l, y - 0.8 * l, "end"], [x + l, y - 0.8 * l, "start"],
        [x - l, y + 1.6 * l, "end"], [x + l, y + 1.6 * l, "start"], [x, y + 2.2 * l, "middle"]]);
    }
    const told = v > 0 ? "in flight" : "standing still";
    if (asks.length) beside(s, asks, left ? ["left", "right"] : ["right", "left"], `blades ask, ${told}`, own);
    if (s.ghost?.length) beside(s, s.ghost, left ? ["right", "left"] : ["left", "right"], "before", "grey");
    if (aside.length) beside(s, aside, ["right", "left"], flying ? "standing still" : "in flight", others);
    if (given.length) words(s, "engine gives", "ink", given.filter((_, i) => i % 3 === 1).map(([x, y]) =>
      [x, y - 0.7 * s.letter, "end"]));
    svg.setAttribute("aria-label", label(shown, held));
  };
  const crossing = (f) => (f ? `cross at ${M.whole(f.rotation)} rpm and ${f.torque.toFixed(0)} N m` : "do not cross");
  const label = ({ e, still, flight }, held) => held && e
    ? "Torque over engine speed: the lines as they were before; the answer is held back until a guess is made"
    : `Torque over engine speed: standing still the lines of engine and blades ${crossing(still)}, in flight they ${crossing(flight)}` +
      (e && e.a ? `; before, they ${crossing(e.a)} ${e.moving ? "in flight" : "standing still"}` : "");

  Object.assign(M, { drawing: { sheet, measure, words, arrow, d }, drawLines: draw });
})();
