// The lesson: reads the library's tables and lets a learner move the load line. The formulas are
// those of read_lesson and read_climb; nothing here is physics of its own.
"use strict";
(() => {
  const { data, looks, dark } = window.loadline;
  const L = data.lesson;
  const rpm = 30 / Math.PI, degree = Math.PI / 180;
  const $ = (id) => document.getElementById(id);

  // The cubic through the four nearest points.
  const weights = (axis, x) => {
    x = Math.min(Math.max(x, axis[0]), axis[axis.length - 1]);
    let at = 0;
    const n = Math.min(4, axis.length);
    while (at + 4 < axis.length && axis[at + 2] <= x) at++;
    const w = Array(n).fill(1);
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++)
        if (k !== i) w[i] *= (x - axis[at + k]) / (axis[at + i] - axis[at + k]);
    return { first: at, w };
  };
  const read = (axis, values, x) => {
    const { first, w } = weights(axis, x);
    return w.reduce((sum, v, i) => sum + v * values[first + i], 0);
  };
  // Sixteen bits a number, between the least and the greatest.
  const unpacked = (p) => {
    const bytes = Uint8Array.from(atob(p.packed), (c) => c.charCodeAt(0));
    return Float64Array.from({ length: p.count },
      (_, i) => p.least + p.step * (bytes[2 * i] + 256 * bytes[2 * i + 1]));
  };
  const P = { ...L.propeller, ct: unpacked(L.propeller.ct), cp: unpacked(L.propeller.cp) };
  const coefficients = (j, turned, logMach, logSize) => {
    const a = weights(P.advance_ratio, j), b = weights(P.turned, turned);
    const c = weights(P.log_tip_mach, logMach), d = weights(P.log_size, logSize);
    let ct = 0, cp = 0;
    for (let s = 0; s < d.w.length; s++)
      for (let m = 0; m < 4; m++)
        for (let t = 0; t < 4; t++) {
          const weight = d.w[s] * c.w[m] * b.w[t];
          const row = (((d.first + s) * P.log_tip_mach.length + c.first + m) * P.turned.length +
            b.first + t) * P.advance_ratio.length + a.first;
          for (let k = 0; k < 4; k++) {
            ct += weight * a.w[k] * P.ct[row + k];
            cp += weight * a.w[k] * P.cp[row + k];
          }
        }
    return { ct, cp };
  };
  const scene = (s) => ({ s,
    density: read(L.air.height, L.air.density, s.height),
    viscosity: read(L.air.height, L.air.viscosity, s.height),
    sound: read(L.air.height, L.air.sound_speed, s.height),
    day: read(L.air.height, L.air.day_factor, s.height) });
  const E = { ...L.engine, torque: unpacked(L.engine.torque) };
  const given = (c, w) => {
    const place = (w - E.lowest) / (E.highest - E.lowest) * (E.torque.length - 1);
    const at = Math.min(Math.max(0, Math.floor(place)), E.torque.length - 2);
    return (E.torque[at] + (E.torque[at + 1] - E.torque[at]) * (place - at)) *
      c.day * c.s.ratio * L.efficiency;
  };
  // At an airspeed of the craft: in its wake the propeller meets less.
  const left = L.craft ? 1 - L.craft.wake_fraction : 1;
  const loads = (c, w, v) => {
    const turns = w / c.s.ratio / (2 * Math.PI);
    const j = v * left / (turns * c.s.diameter);
    if (j > P.advance_ratio[P.advance_ratio.length - 1]) return null;
    const k = coefficients(j, c.s.turned, Math.log(Math.PI * turns * c.s.diameter / c.sound),
      Math.log(c.density * c.sound * c.s.diameter / c.viscosity));
    const force = c.density * turns * turns * c.s.diameter ** 4;
    return { thrust: k.ct * force, torque: k.cp * force * c.s.diameter / (2 * Math.PI) };
  };
  const agree = (c, v) => {
    const surplus = (w) => { const l = loads(c, w, v); return l ? given(c, w) - l.torque : null; };
    let low = null;
    for (let w = E.lowest; ; w *= 1.015) {
      const last = w >= E.highest;
      w = Math.min(w, E.highest);
      const here = surplus(w);
      if (here !== null && here >= 0) low = w;
      else if (here !== null && low !== null) {
        let high = w;
        for (let i = 0; i < 40; i++) {
          const middle = 0.5 * (low + high), there = surplus(middle);
          if (there !== null && there >= 0) low = middle; else high = middle;
        }
        const found = 0.5 * (low + high), l = loads(c, found, v);
        return { rotation: found, thrust: l.thrust, torque: l.torque,
          power: l.torque * found / c.s.ratio };
      } else if (here !== null) return null;
      if (last) return null;
    }
  };
  const climb = (c) => {
    const W = L.craft;
    if (!W) return null;
    const weight = W.mass * 9.80665, slope = 1 / W.glide_ratio;
    const trim = W.trim_speed * Math.sqrt(W.density / c.density);
    let v = trim, rate = null;
    for (let i = 0; i < 12; i++) {
      const found = agree(c, v);
      if (!found) return null;
      const share = found.thrust * (1 - W.thrust_deduction) / weight / Math.hypot(1, slope);
      const angle = Math.asin(Math.min(1, Math.max(-1, share))) - Math.atan(slope);
      const before = v;
      v = trim * Math.sqrt(Math.max(0, Math.cos(angle)));
      rate = v * Math.sin(angle);
      if (Math.abs(v - before) < 1e-9 * before) break;
    }
    return rate;
  };

  const knobs = ["turned", "diameter", "ratio", "height", "airspeed"];
  const unit = { turned: degree, diameter: 0.01, ratio: 1, height: 1, airspeed: 1 / 3.6 };
  const places = { turned: 1, diameter: 1, ratio: 2, height: 0, airspeed: 0 };
  const start = Object.fromEntries(knobs.map((k) => [k, L.ranges[k].start]));
  let before = { ...start };
  const current = () => Object.fromEntries(knobs.map((k) => [k, Number($(k).value) * unit[k]]));
  // Where the run of pitches was solved its own answers stand, as everywhere else on the page.
  const solved = (s) => knobs.slice(1).every((k) => Math.abs(s[k] - start[k]) <= 1e-9 * (1 + start[k]))
    ? L.rows.find((r) => Math.abs(r.turned - s.turned) < 1e-6) : undefined;
  const answer = (s, v) => {
    const row = solved(s);
    return row ? (v > 0 ? row.flying : row.standing) : agree(scene(s), v);
  };
  const rate = (s) => { const row = solved(s); return row ? row.climb : climb(scene(s)); };
  const whole = (w) => Math.round(w * rpm);

  const more = (x) => `${Math.abs(100 * x).toFixed(0)} % ${x >= 0 ? "more" : "less"}`;
  const sentence = (now) => {
    const changed = knobs.find((k) => Math.abs(now[k] - before[k]) > 1e-9 * (1 + Math.abs(now[k])));
    if (!changed) return "Move a slider: the load line moves, and the crossing with it.";
    const moving = changed === "airspeed";
    const was = scene(before), is = scene(now);
    const a = answer(before, before.airspeed * moving), b = answer(now, now.airspeed * moving);
    if (!a || !b) return "Engine and propeller agree on no speed here: the engine runs away, or cannot turn the blades.";
    const asked = loads(is, a.rotation * now.ratio / before.ratio, now.airspeed * moving);
    const there = loads(was, a.rotation, before.airspeed * moving);
    const ask = asked ? more(asked.torque / there.torque - 1) : "another";
    const fall = whole(b.rotation) - whole(a.rotation);
    const turns = Math.abs(fall) < 5 ? "the engine turns as before"
      : `the engine finds that torque ${Math.abs(fall).toFixed(0)} rpm ${fall < 0 ? "lower" : "higher"}`;
    const pull = `Thrust: ${b.thrust.toFixed(0)} N instead of ${a.thrust.toFixed(0)} N.`;
    const up = now[changed] > before[changed];
    switch (changed) {
      case "turned":
        return `The blade meets the air at a ${up ? "steeper" : "flatter"} angle; it asks ${ask} torque at the same speed; ${turns}. ${pull}`;
      case "diameter":
        return `The tips run on a ${up ? "larger" : "smaller"} circle; the blades ask ${ask} torque at the same speed; ${turns}. ${pull}`;
      case "ratio":
        return `The engine turns ${up ? "more" : "fewer"} times for each turn of the propeller: it brings ${up ? "more" : "less"} torque to a ${up ? "slower" : "faster"} shaft; it now turns ${whole(b.rotation)} rpm instead of ${whole(a.rotation)}. ${pull}`;
      case "height":
        return `The air is ${up ? "thinner" : "thicker"}: the blades ask ${ask} torque at the same speed and the engine gives ${more(is.day / was.day - 1)}; ${turns}. ${pull}`;
      default:
        return `The air comes ${up ? "faster" : "slower"} from ahead, so the blades meet it at a ${up ? "shallower" : "steeper"} angle; they ask ${ask} torque at the same speed; ${turns}. ${pull}`;
    }
  };

  // The picture: what the engine gives, what the blades ask, and a run of pitches behind it.
  let chart = null;
  const line = (c, v, count) => {
    const points = [];
    for (let i = 0; i <= count; i++) {
      const w = E.lowest + (E.highest - E.lowest) * i / count;
      const l = v === null ? { torque: given(c, w) } : loads(c, w, v);
      if (l) points.push({ x: w * rpm, y: l.torque });
    }
    return points;
  };
  const run = [-4, -2, 2, 4].map((t) => t * degree);
  const first = answer(start, 0), flying = answer(start, start.airspeed), rising = rate(start);
  const speeds = [first, flying].filter(Boolean).map((f) => f.rotation * rpm);
  const xmin = Math.floor((speeds.length ? 0.55 * Math.min(...speeds) : E.lowest * rpm) / 500) * 500;
  const xmax = Math.ceil((speeds.length ? Math.min(1.25 * Math.max(...speeds), E.highest * rpm)
    : E.highest * rpm) / 500) * 500;
  const highest = Math.max(...line(scene(start), null, 60).map((p) => p.y));
  const tens = 10 ** Math.floor(Math.log10(highest));
  const ymax = Math.ceil(1.6 * highest / tens * 2) * tens / 2;
  // Every crossing lies within the picture, wherever a slider takes it.
  const hold = (found) => {
    const { x, y } = chart.options.scales;
    const turns = found.map((f) => f.rotation * rpm);
    x.min = Math.min(xmin, ...turns.map((n) => Math.floor(0.9 * n / 500) * 500));
    x.max = Math.max(xmax, ...turns.map((n) => Math.ceil(1.05 * n / 500) * 500));
    y.max = Math.max(ymax, ...found.map((f) => Math.ceil(1.1 * f.torque / tens * 2) * tens / 2));
    return y.max;
  };
  const picture = (onDark) => {
    if (chart) chart.destroy();
    const look = looks(onDark), c = look.series;
    const set = (label, colour, dash, width, named) => ({ label, data: [], borderColor: colour,
      backgroundColor: colour, borderDash: dash, borderWidth: width, pointRadius: 0, tension: 0,
      pointStyle: "line", hidden_in_legend: !named });
    const mark = (label, colour, style) => ({ label, data: [], showLine: false, pointRadius: 8,
      pointStyle: style, borderColor: look.text, backgroundColor: colour, borderWidth: 1.5,
      hidden_in_legend: true });
    const narrow = window.matchMedia("(max-width: 44rem)").matches;  // room for the main lines only
    const sets = [
      mark("crossing, standing still", c[0], "circle"),
      mark("crossing, in flight", c[1], "rectRot"),
      set("engine gives", look.text, [], 3.5, true),
      set(narrow ? "standing still" : "blades ask, standing still", c[0], [], 2.5, true),
      set(narrow ? "in flight" : "blades ask, in flight", c[1], [8, 4], 2.5, true),
      set("greatest torque", look.grey, [3, 4], 2.5, !narrow),
    ];
    if (E.rotation_limit) sets.push(set("maker's limit", look.warned, [8, 4], 2.5, !narrow));
    run.forEach((t, i) => sets.push(set("standing still, 2 and 4 deg to either side",
      c[0] + "66", [], 1, i === 0 && !narrow)));
    chart = new Chart($("load-lines"), window.loadline.plain({ type: "line", data: { datasets: sets },
      options: { scales: {
        x: window.loadline.axis("engine speed, rpm", look, { type: "linear", min: xmin, max: xmax }),
        y: window.loadline.axis("torque, N m", look, { min: 0, max: ymax }) } } }, look));
  };
  const show = (id, text) => { $(id).textContent = text; };
  const changed = (now, was, digits) => {
    const text = now.toFixed(digits), by = Number(text) - Number(was.toFixed(digits));
    return Number(by.toFixed(digits)) === 0 ? text : `${text} (${by > 0 ? "+" : ""}${by.toFixed(digits)})`;
  };
  const answers = (id, found, was) => [["rpm", (f) => f.rotation * rpm, 0],
    ["thrust", (f) => f.thrust, 0], ["power", (f) => f.power / 1000, 1]].forEach(([what, f, digits]) =>
    show(`${id}-${what}`, !found ? "none" : was ? changed(f(found), f(was), digits) : f(found).toFixed(digits)));
  const update = () => {
    const now = current();
    knobs.forEach((k) => {
      const value = (now[k] / unit[k]).toFixed(places[k]);
      const signed = k === "turned" && Number(value) > 0 ? `+${value}` : value;
      show(k + "-value", signed);
      $(k).setAttribute("aria-valuetext", `${signed} ${$(k).dataset.said}`);
    });
    const c = scene(now), a = answer(now, 0), b = answer(now, now.airspeed), up = rate(now);
    show("flight", `at ${(now.airspeed / unit.airspeed).toFixed(0)} km/h`);
    answers("static", a, first);
    answers("flight", b, flying);
    if (L.craft) show("climb", up === null ? "none" : up < 0 ? `sinks ${(-up).toFixed(2)} m/s`
      : (rising === null || rising < 0 ? up.toFixed(2) : changed(up, rising, 2)) + " m/s");
    const limit = E.rotation_limit;
    show("limit", limit && [a, b].some((f) => f && whole(f.rotation) > whole(limit))
      ? `Over the maker's limit of ${whole(limit)} rpm: throttle back, and do not fly it so.`
      : [a, b].some((f) => f && whole(f.rotation) < whole(E.peak_torque_rotation))
        ? `Below the speed of greatest torque (${whole(E.peak_torque_rotation)} rpm): lugging, hot and rough.` : "");
    show("said", sentence(now));
    const crossing = (f) => (f ? `cross at ${whole(f.rotation)} rpm and ${f.torque.toFixed(0)} N m` : "do not cross");
    $("load-lines").setAttribute("aria-label",
      `Torque over engine speed: standing still the lines of engine and blades ${crossing(a)}, in flight they ${crossing(b)}`);
    const top = hold([a, b].filter(Boolean));
    const upright = (w) => [{ x: w * rpm, y: 0 }, { x: w * rpm, y: top }];
    const d = chart.data.datasets;
    d[0].data = a ? [{ x: a.rotation * rpm, y: a.torque }] : [];
    d[1].data = b ? [{ x: b.rotation * rpm, y: b.torque }] : [];
    d[2].data = line(c, null, 120);
    d[3].data = line(c, 0, 60);
    d[4].data = line(c, now.airspeed, 60);
    d[5].data = upright(E.peak_torque_rotation);
    if (limit) d[6].data = upright(limit);
    run.forEach((t, i) => { d[d.length - run.length + i].data = line(scene({ ...now, turned: t }), 0, 40); });
    chart.update();
  };
  knobs.forEach((k) => {
    $(k).addEventListener("input", update);
    // What follows is told against where the slider was taken up.
    $(k).addEventListener("pointerdown", () => { before = current(); });
    $(k).addEventListener("focus", () => { before = current(); });
  });
  $("again").addEventListener("click", () => {
    knobs.forEach((k) => { $(k).value = start[k] / unit[k]; });
    before = { ...start };
    update();
  });
  const redraw = (onDark) => { picture(onDark); update(); };
  redraw(dark.matches);
  dark.addEventListener("change", (e) => redraw(e.matches));
  window.addEventListener("beforeprint", () => redraw(false));
  window.addEventListener("afterprint", () => redraw(dark.matches));
})();
