// What a lesson knows: reads the library's tables by the formulas of read_lesson, read_cut and read_climb; nothing here
// is physics of its own.
"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const L = data.lesson;

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
  const P = { axes: L.propeller.axes, ct: unpacked(L.propeller.ct), cp: unpacked(L.propeller.cp) };
  const F = { ...L.flow, inflow: L.flow.inflow.map(unpacked), stall: L.flow.stall.map(unpacked),
    speed: unpacked(L.flow.speed), pull: unpacked(L.flow.pull), hold: unpacked(L.flow.hold) };
  // Of several tables over the same four axes, what each holds at a place.
  const at = (axes, place, tables) => {
    const [a, b, c, d] = [weights(axes.advance_ratio, place.j), weights(axes.turned, place.turned),
      weights(axes.log_tip_mach, place.mach), weights(axes.log_size, place.size)];
    const sums = tables.map(() => 0);
    for (let s = 0; s < d.w.length; s++)
      for (let m = 0; m < c.w.length; m++)
        for (let t = 0; t < b.w.length; t++) {
          const weight = d.w[s] * c.w[m] * b.w[t];
          const row = (((d.first + s) * axes.log_tip_mach.length + c.first + m) * axes.turned.length +
            b.first + t) * axes.advance_ratio.length + a.first;
          for (let k = 0; k < a.w.length; k++)
            for (let i = 0; i < tables.length; i++) sums[i] += weight * a.w[k] * tables[i][row + k];
        }
    return sums;
  };
  const scene = (s) => ({ s,
    density: read(L.air.height, L.air.density, s.height),
    viscosity: read(L.air.height, L.air.viscosity, s.height),
    sound: read(L.air.height, L.air.sound_speed, s.height),
    day: read(L.air.height, L.air.day_factor, s.height) });
  const E = { ...L.engine, torque: unpacked(L.engine.torque) };
  const given = (c, w) => {
    const place = (w - E.lowest) / (E.highest - E.lowest) * (E.torque.length - 1);
    const low = Math.min(Math.max(0, Math.floor(place)), E.torque.length - 2);
    return (E.torque[low] + (E.torque[low + 1] - E.torque[low]) * (place - low)) *
      c.day * c.s.ratio * L.efficiency;
  };
  // At an airspeed of the craft: in its wake the propeller meets less.
  const left = L.craft ? 1 - L.craft.wake_fraction : 1;
  // How the blades turn, in the numbers the tables go by; nothing where the air drives them.
  const similar = (c, w, v) => {
    const turns = w / c.s.ratio / (2 * Math.PI);
    const j = v * left / (turns * c.s.diameter);
    return j > P.axes.advance_ratio[P.axes.advance_ratio.length - 1] ? null : { turns, j, turned: c.s.turned,
      mach: Math.log(Math.PI * turns * c.s.diameter / c.sound),
      size: Math.log(c.density * c.sound * c.s.diameter / c.viscosity) };
  };
  const loads = (c, w, v) => {
    const like = similar(c, w, v);
    if (!like) return null;
    const [ct, cp] = at(P.axes, like, [P.ct, P.cp]);
    const force = c.density * like.turns * like.turns * c.s.diameter ** 4;
    return { thrust: ct * force, torque: cp * force * c.s.diameter / (2 * Math.PI) };
  };
  // The blade cut across at three quarters of its radius, and the angles all along it.
  const cut = (c, w, v) => {
    const like = similar(c, w, v);
    if (!like) return null;
    const found = at(F.axes, like, [...F.inflow, ...F.stall, F.speed, F.pull, F.hold]);
    const n = F.radius.length, tip = like.turns * c.s.diameter;
    const along = F.radius.map((radius, i) => {
      const angle = F.blade_angle[i] + c.s.turned, inflow = found[i];
      return { radius, angle, inflow, alpha: angle - inflow, stall: found[n + i] };
    });
    const force = c.density * tip * tip * c.s.diameter;
    return { along, ...along[F.cut], speed: found[2 * n] * tip, met: v * left,
      pull: found[2 * n + 1] * force, hold: found[2 * n + 2] * force };
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
  const start = Object.fromEntries(knobs.map((k) => [k, L.ranges[k].start]));
  const alike = (a, b) => Math.abs(a - b) <= 1e-9 * (1 + Math.abs(b));
  // Where the run of pitches was solved its own answers stand, as everywhere else on the page.
  const solved = (s, still) => knobs.slice(1).every((k) => (still && k === "airspeed") || alike(s[k], start[k]))
    ? L.rows.find((r) => Math.abs(r.turned - s.turned) < 1e-6) : undefined;
  // The same is asked again and again while a slider moves.
  const kept = (work) => {
    const known = new Map();
    return (s, v) => {
      const key = `${knobs.map((k) => s[k])} ${v}`;
      if (!known.has(key)) {
        if (known.size > 200) known.clear();
        known.set(key, work(s, v));
      }
      return known.get(key);
    };
  };
  const answer = kept((s, v) => {
    const row = v === 0 || alike(v, s.airspeed) ? solved(s, v === 0) : undefined;
    return row ? (v > 0 ? row.flying : row.standing) : agree(scene(s), v);
  });
  const rate = kept((s) => { const row = solved(s, true); return row ? row.climb : climb(scene(s)); });
  window.lesson = { knobs, start, alike, engine: E, outline: F.outline, hasCraft: !!L.craft, craft: left,
    scene, given, loads, cut, answer, rate, rpm: 30 / Math.PI, degree: Math.PI / 180 };
})();
