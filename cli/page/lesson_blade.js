// The blade cut across at three quarters of its radius as the air meets it, and the angle of attack all along it.
"use strict";
(() => {
  const M = window.lesson, { sheet, words, arrow, d } = M.drawing;
  const degrees = M.degrees;
  // How red an angle is: not at all from four degrees below the stall, all of it at the stall.
  const redness = (c) => Math.min(1, Math.max(0, 1 - (c.stall - c.alpha) / (4 * M.degree)));
  const stalled = (c) => c.alpha > c.stall;

  // Up is forward along the axis; the blade moves to the left, so that the air comes from there. The leading edge is
  // where the air arrives.
  const frame = (s) => {
    const chord = 0.35 * s.width, nose = [0.61 * s.width, 0.64 * s.height];
    return { chord, nose, upstream: (angle, far) => [nose[0] - far * Math.cos(angle), nose[1] - far * Math.sin(angle)] };
  };
  const section = (f, angle) => d(M.outline.map(([x, y]) => [
    f.nose[0] + f.chord * (x * Math.cos(angle) + y * Math.sin(angle)),
    f.nose[1] + f.chord * (x * Math.sin(angle) - y * Math.cos(angle))])) + "Z";
  const sector = (f, from, to, far) => {
    const [x1, y1] = f.upstream(from, far), [x2, y2] = f.upstream(to, far);
    return `M${f.nose[0].toFixed(1)} ${f.nose[1].toFixed(1)}L${x1.toFixed(1)} ${y1.toFixed(1)}` +
      `A${far.toFixed(1)} ${far.toFixed(1)} 0 0 ${to > from ? 1 : 0} ${x2.toFixed(1)} ${y2.toFixed(1)}Z`;
  };
  const ray = (s, f, angle, from, far, look) => {
    const [x1, y1] = f.upstream(angle, from), [x2, y2] = f.upstream(angle, far);
    s.put("line", { x1, y1, x2, y2, class: look });
  };
  // The air: what comes in from ahead, what the turning brings, and both together.
  const air = (s, f, c, far) => {
    const [x, y] = f.upstream(c.inflow, far), l = s.letter;
    arrow(s, x, y, x, f.nose[1], "air s1");
    arrow(s, x, f.nose[1], f.nose[0] - 0.5 * l, f.nose[1], "air s0");
    arrow(s, x, y, f.nose[0] - 0.3 * l * Math.cos(c.inflow), f.nose[1] - 0.3 * l * Math.sin(c.inflow), "wind ink");
    const below = f.nose[1] + 1.3 * l;
    words(s, `from its turning, ${(c.speed * Math.cos(c.inflow)).toFixed(0)} m/s`, "s0", [[f.nose[0] - 1.5 * l, below, "end"]]);
    words(s, `incoming ${(c.speed * Math.sin(c.inflow)).toFixed(0).replace("-", "−")} m/s`, "s1",
      [[Math.max(0, x - 0.5 * l), below, "start"], [Math.max(0, x - 0.5 * l), below + 1.3 * l, "start"]]);
  };
  // What the air does to the section: it pulls forward, and holds back.
  const force = (s, f, c, before, per) => {
    const root = [f.nose[0] + 0.25 * f.chord * Math.cos(c.angle), f.nose[1] + 0.25 * f.chord * Math.sin(c.angle)];
    const end = (of) => [root[0] + per * of.hold, root[1] - per * of.pull];
    if (before) arrow(s, ...root, ...end(before), "ghost grey");
    const [x, y] = end(c), l = s.letter;
    s.put("line", { x1: root[0], y1: root[1], x2: root[0], y2: y, class: "thin s2" });
    arrow(s, ...root, x, y, "force s2");
    arrow(s, root[0], y, x, y, "hold ink");
    words(s, "holds back", "ink strong", [[x + 0.5 * l, y + 0.3 * l, "start"], [root[0], y - 0.6 * l, "start"], [x, y - 0.6 * l, "end"]]);
    words(s, "pulls", "s2", [[root[0] - 0.4 * l, 0.5 * (root[1] + y), "end"]]);
  };

  // shown: { cut, ghost: the cut before, per: px a N per m, held }
  const drawCut = (svg, { cut: c, ghost, pull, flying }) => {
    const s = sheet(svg), f = frame(s), l = s.letter, far = 0.56 * s.width;
    if (!c) {
      words(s, "the air would drive the blades", "ink", [[0.5 * s.width, 0.5 * s.height, "middle"]]);
      svg.setAttribute("aria-label", "The blade cut across: the air would drive it");
      return;
    }
    s.put("line", { x1: 0, x2: s.width, y1: f.nose[1], y2: f.nose[1], class: "rule" });
    arrow(s, 4 * l, 0.8 * l, 0, 0.8 * l, "air grey");
    words(s, "the blade moves this way", "grey", [[4.5 * l, 1.15 * l, "start"]]);
    const red = redness(c), wedge = 0.92 * far;
    const shade = sector(f, c.inflow, c.angle, wedge);
    s.put("path", { d: shade, class: "wedge s0", "fill-opacity": (0.35 * (1 - red)).toFixed(2) });
    s.put("path", { d: shade, class: "wedge warned", "fill-opacity": (0.75 * red).toFixed(2) });
    if (ghost) {
      s.put("path", { d: section(f, ghost.angle), class: "ghost grey" });
      ray(s, f, ghost.angle, 0, wedge, "ghost grey");
    }
    ray(s, f, c.inflow + c.stall, 0.55 * wedge, 1.04 * wedge, "limit warned");
    s.put("path", { d: section(f, c.angle), class: "section ink" });
    ray(s, f, c.angle, 0, wedge, "thin ink");
    air(s, f, c, far);
    force(s, f, c, ghost, Math.min(0.5 * s.height, 0.36 * s.width) / pull);
    const [x, y] = f.upstream(Math.max(c.angle, c.inflow + c.stall), wedge);
    words(s, `stalls at ${degrees(c.stall)}°`, "warned", [[Math.max(0, x - 1.5 * l), y - 0.7 * l, "start"],
      [...f.upstream(c.inflow + c.stall, 0.5 * wedge), "start"], [0, f.nose[1] + 2.6 * l, "start"], [0, f.nose[1] + 3.9 * l, "start"]]);
    const [mx, my] = f.upstream(0.5 * (c.inflow + c.angle), 0.8 * wedge);
    words(s, `${degrees(c.alpha)}°`, `strong ${stalled(c) ? "warned" : "ink"}`, [[mx, my + 0.35 * l, "middle"], [mx, my - 1.2 * l, "middle"]]);
    svg.setAttribute("aria-label", `The blade cut across at three quarters of its radius, ${flying ? "in flight" : "standing still"}: ` +
      `set at ${degrees(c.angle)} degrees, the air comes at ${degrees(c.inflow)} degrees, the angle of attack is ` +
      `${degrees(c.alpha)} degrees${ghost ? ` instead of ${degrees(ghost.alpha)}` : ""}; ` +
      (stalled(c) ? `it is stalled, from ${degrees(c.stall)} degrees on` : `it stalls at ${degrees(c.stall)} degrees`));
  };

  // ---- the strip

  const drawStrip = (svg, { cut, ghost, flying }) => {
    const s = sheet(svg), l = s.letter;
    if (!cut) return;
    const along = cut.along, all = [...along, ...(ghost ? ghost.along : [])];
    const top = Math.max(2 * M.degree, ...all.map((p) => Math.max(p.alpha, p.stall))) * 1.1;
    const low = Math.min(0, ...all.map((p) => p.alpha));
    const room = { left: 2.2 * l, right: s.width - 0.3 * l, top: 1.4 * l, bottom: s.height - 1.5 * l };
    const from = along[0].radius;
    const x = (r) => room.left + (r - from) / (1 - from) * (room.right - room.left);
    const y = (angle) => room.bottom - (angle - low) / (top - low) * (room.bottom - room.top);
    words(s, "angle of attack along the blade", "grey", [[0, 1.0 * l, "start"]]);
    const ticks = [0, 5, 10, 15, 20, 30, 40].filter((t) => t * M.degree <= top && t * M.degree >= low);
    for (const t of ticks.length > 4 && s.height < 12 * l ? ticks.filter((t) => t % 10 === 0) : ticks) {
      s.put("line", { x1: room.left, x2: room.right, y1: y(t * M.degree), y2: y(t * M.degree), class: "rule" });
      words(s, `${t}°`, "grey", [[room.left - 0.3 * l, y(t * M.degree) + 0.35 * l, "end"]]);
    }
    const curve = (points, of) => d(points.map((p) => [x(p.radius), y(of(p))]));
    const beyond = along.map((p) => [x(p.radius), y(Math.max(p.alpha, p.stall))]);
    s.put("path", { d: d([...beyond, ...[...along].reverse().map((p) => [x(p.radius), y(p.stall)])]) + "Z", class: "beyond warned" });
    s.put("path", { d: curve(along, (p) => p.stall), class: "limit warned" });
    if (ghost) s.put("path", { d: curve(ghost.along, (p) => p.alpha), class: "ghost grey" });
    const look = flying ? "s1" : "s0";
    s.put("path", { d: curve(along, (p) => p.alpha), class: `asks ${look}` });
    s.put("circle", { cx: x(cut.radius), cy: y(cut.alpha), r: 0.4 * l, class: `mark ${look}` });
    words(s, "root", "grey", [[room.left, s.height - 0.3 * l, "start"], [room.left + 0.8 * l, s.height - 0.3 * l, "start"]]);
    words(s, "tip", "grey", [[room.right, s.height - 0.3 * l, "end"]]);
    const near = (of, up) => along.flatMap((p) => [[x(p.radius), y(of(p)) + (up ? -0.5 : 1.2) * l, "middle"]]);
    words(s, "stall", "warned", [...near((p) => p.stall, true).slice(1), ...near((p) => p.stall, false)]);
    words(s, "cut above", look, [[x(cut.radius), y(cut.alpha) + 1.6 * l, "middle"], [x(cut.radius), y(cut.alpha) - 0.9 * l, "middle"]]);
    const past = along.filter((p) => p.alpha > p.stall).length;
    svg.setAttribute("aria-label", `Angle of attack from root to tip: ${degrees(along[0].alpha)} degrees at the root, ` +
      `${degrees(cut.alpha)} at three quarters, ${degrees(along[along.length - 1].alpha)} at the tip; ` +
      (past === 0 ? "nowhere stalled" : past === along.length ? "stalled all along" : `stalled at ${past} of ${along.length} places`));
  };
  Object.assign(M, { drawCut, drawStrip, stalled });
})();
