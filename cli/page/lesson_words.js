// What a lesson says of a slider that was moved, in three steps: what is different, what is asked at the old speed, and
// the speed on which both agree. All figures are those of lesson_model.js.
"use strict";
(() => {
  const M = window.lesson;
  const whole = (w) => Math.round(w * M.rpm);
  const degrees = (angle) => (angle / M.degree).toFixed(1).replace("-", "−");
  const percent = (x) => `${Math.abs(100 * x).toFixed(0)} %`;
  const hardly = (x) => Math.abs(x) < 0.005;  // not told as a per cent or more
  const more = (x) => hardly(x) ? "as much" : `${percent(x)} ${x > 0 ? "more" : "less"}`;
  const kmh = (v) => (v * 3.6).toFixed(0);

  // What changed between two settings, seen standing still or in flight.
  const explain = (before, now, flying) => {
    const knob = M.knobs.find((k) => !M.alike(now[k], before[k]));
    if (!knob) return null;
    const moving = flying || knob === "airspeed";
    const was = M.scene(before), is = M.scene(now);
    const v0 = before.airspeed * moving, v1 = now.airspeed * moving;
    const a = M.answer(before, v0), b = M.answer(now, v1);
    const found = { knob, moving, was, is, v0, v1, a, b, up: now[knob] > before[knob] };
    if (!a) return found;
    // At the engine speed agreed on before.
    const asked = M.loads(is, a.rotation, v1);
    found.asked = asked ? asked.torque : null;
    found.given = M.given(is, a.rotation);
    found.more_asked = asked ? asked.torque / a.torque - 1 : null;
    found.more_given = found.given / M.given(was, a.rotation) - 1;
    found.excess = asked ? asked.torque / found.given - 1 : null;
    found.cut_before = M.cut(was, a.rotation, v0);
    found.cut_then = M.cut(is, a.rotation, v1);
    if (b) {
      found.cut_now = M.cut(is, b.rotation, v1);
      found.change = b.rotation / a.rotation - 1;
      found.fall = whole(b.rotation) - whole(a.rotation);
      // What the engine itself gives more at the new speed than at the old.
      found.along = M.given(is, b.rotation) / found.given - 1;
    }
    return found;
  };
  // -1 lower, 0 about the same, 1 higher; a hundredth is no difference a class should argue about.
  const turn = (e) => Math.abs(e.change) <= 0.01 ? 0 : Math.sign(e.change);

  const angles = (e) => {
    const from = e.cut_before, to = e.cut_then;
    if (!from || !to || degrees(from.alpha) === degrees(to.alpha)) return "";
    const stalled = to.alpha > to.stall && from.alpha <= from.stall ? ", past the stall" : "";
    return `at ${degrees(to.alpha)}° instead of ${degrees(from.alpha)}°${stalled}`;
  };
  const flies = (was, is) => is === 0 ? `The craft stands still instead of flying at ${kmh(was)} km/h`
    : `The craft flies at ${kmh(is)} km/h instead of ${was === 0 ? "standing still" : kmh(was)}`;
  const cause = (e, before, now) => {
    const met = angles(e), up = e.up;
    switch (e.knob) {
      case "turned":
        return `The blades are turned ${degrees(Math.abs(now.turned - before.turned))}° ${up ? "coarser" : "finer"}` +
          `: they meet the air more ${up ? "steeply" : "flatly"}${met ? ", " + met : ""}.`;
      case "diameter":
        return `The propeller ${up ? "grows" : "shrinks"} from ${(100 * before.diameter).toFixed(1)} to ` +
          `${(100 * now.diameter).toFixed(1)} cm: its tips run on a ${up ? "larger" : "smaller"} circle and ` +
          `${up ? "faster" : "slower"}.`;
      case "ratio":
        return `The engine turns ${now.ratio.toFixed(2)} times for each turn of the propeller instead of ` +
          `${before.ratio.toFixed(2)}: at the same engine speed the blades turn ${up ? "slower" : "faster"}, and the ` +
          `engine's torque reaches them ${up ? "multiplied by more" : "multiplied by less"}.`;
      case "height":
        return `The air is ${percent(e.is.density / e.was.density - 1)} ${up ? "thinner" : "thicker"}.`;
      default:
        return `${flies(before.airspeed, now.airspeed)}: the air comes from ahead ${up ? "faster" : "slower"} and meets ` +
          `the blades more ${up ? "flatly" : "steeply"}${met ? ", " + met : ""}.`;
    }
  };
  const ending = (x) => x > 0.005 ? "The engine has no such torque to give at that speed."
    : x < -0.005 ? "The engine has torque to spare at that speed."
      : "That is what the engine gives.";
  const balance = (e) => {
    if (e.asked === null) return `At the same ${whole(e.a.rotation)} rpm the air would drive the blades.`;
    const engine = hardly(e.more_given) ? "" : `, and the engine gives ${more(e.more_given)}`;
    return `At the same ${whole(e.a.rotation)} rpm they ask ${more(e.more_asked)} torque` +
      `${hardly(e.more_asked) ? " as before" : ""}${engine}. ${ending(e.excess)}`;
  };
  // How both come to agree as the speed changes.
  const why = (e) => {
    const slower = e.fall < 0, expected = e.excess === null || (slower ? e.excess > -0.005 : e.excess < 0.005);
    if (!expected) return "on its way up from idle the engine now meets the blades' line earlier";
    if (slower) return e.along > 0.01 ? "slower blades ask less, and the engine gives more there"
      : e.along < -0.01 ? "the engine gives less there too, but what the blades ask falls faster"
        : "slower blades ask less, and the engine gives about as much there";
    return e.along > 0.01 ? "the engine gives more there too, but what the blades ask rises faster"
      : e.along < -0.01 ? "faster blades ask more, and the engine gives less there"
        : "faster blades ask more, and the engine gives about as much there";
  };
  const pull = (e) => `Thrust: ${e.b.thrust.toFixed(0)} N instead of ${e.a.thrust.toFixed(0)}.`;
  const torques = (e) => e.b.torque.toFixed(0) === e.a.torque.toFixed(0) ? `still ${e.b.torque.toFixed(0)} N m`
    : `${e.b.torque.toFixed(0)} N m instead of ${e.a.torque.toFixed(0)}`;
  const agreement = (e) => {
    if (!e.b) {
      const lowest = M.loads(e.is, M.engine.lowest, e.v1);
      return lowest && lowest.torque > M.given(e.is, M.engine.lowest)
        ? "They agree on no speed: the engine cannot turn these blades up from idle."
        : "They agree on no speed: the engine runs away.";
    }
    if (Math.abs(e.fall) < 5) return `So the engine turns as before, ${whole(e.b.rotation)} rpm, with ${torques(e)}. ${pull(e)}`;
    return `So it ${e.fall < 0 ? "slows" : "speeds up"} until both agree: ${why(e)}. At ${whole(e.b.rotation)} rpm, ` +
      `${Math.abs(e.fall)} rpm ${e.fall < 0 ? "lower" : "higher"}, both are at ${torques(e)}. ${pull(e)}`;
  };
  const steps = (e, before, now) => !e.a
    ? ["Before, engine and propeller agreed on no speed.", "", e.b ? `Now they agree at ${whole(e.b.rotation)} rpm.` : agreement(e)]
    : [cause(e, before, now), balance(e), agreement(e)];

  Object.assign(M, { explain, steps, turn, whole, degrees, percent, hardly });
})();
