/* A window on the clock, drawn as a gauge: minutes as ticks, the window as a bar, the likely end as a post, now as a
   float on the line. Times and words stand under it as text. */

import { dayOf, hhmm, instant } from "./clock.js";
import { draw, make } from "./make.js";
import { say } from "./say.js";

const TICKS_MIN = [1, 5, 10, 15, 30, 60, 120, 240, 480, 1440];
const TICK_APART = 24;
const MINUTE = 60_000;

/** From when to when the gauge reaches: the window, the step's beginning and now, with a little beyond. */
function reach(begins, window, now) {
  const first = Math.min(instant(window.earliest), now, begins ?? now);
  const last = Math.max(instant(window.latest), now);
  const beyond = Math.max((last - first) * 0.08, 2 * MINUTE);
  return [first - beyond, last + beyond];
}

/** The gauge; its words are said beside it, so the drawing itself is silent. */
export function gauge(begins, window, now, wide) {
  const [first, last] = reach(begins === null ? null : instant(begins), window, now);
  const x = (when) => ((when - first) / (last - first)) * wide;
  const every = (TICKS_MIN.find((minutes) => (last - first) / (minutes * MINUTE) <= wide / TICK_APART) ?? 1440) * MINUTE;
  const ticks = [];
  for (let when = Math.ceil(first / every) * every; when < last; when += every) {
    ticks.push(draw("path", { class: when % (every * 5) ? "cl-tick" : "cl-tick long", d: `M${x(when)} 64v${when % (every * 5) ? 10 : 20}` }));
  }
  const [low, likely, high] = [instant(window.earliest), instant(window.likely), instant(window.latest)].map(x);
  const here = Math.min(Math.max(x(now), 12), wide - 12);
  return draw("svg", { class: "gauge", viewBox: `0 0 ${wide} 88`, "aria-hidden": "true", focusable: "false" },
    draw("path", { class: "cl-past", d: `M0 64H${here}` }),
    ticks,
    draw("path", { class: "cl-quay", d: `M0 64H${wide}` }),
    draw("path", { class: "cl-window", d: `M${low} 34H${Math.max(high, low + 6)}V64H${low}Z` }),
    draw("path", { class: "cl-likely", d: `M${likely} 24V64` }),
    draw("path", { class: "cl-now", d: `M${here} 8V84` }),
    draw("path", { class: "cl-float", d: `M${here - 12} 2H${here + 12}L${here} 24Z` }));
}

const cell = (name, when, now, main) => make("div", { class: main ? "when likely" : "when" },
  make("dt", {}, name),
  make("dd", {}, make("span", { class: "digits" }, hhmm(when)),
    dayOf(when, now) && make("span", { class: "day" }, dayOf(when, now)),
    make("span", { class: "until", "data-until": when })));

/** Gauge and times of a step's window. */
export function clockline(begins, window, now, wide) {
  const [early, likely, late] = [instant(window.earliest), instant(window.likely), instant(window.latest)];
  const spread = late - early >= MINUTE;
  return make("div", { class: "clockline" }, gauge(begins, window, now, Math.max(wide, 200)),
    make("dl", { class: "whens" },
      spread && cell(say("earliest"), early, now, false),
      cell(say("likely"), likely, now, true),
      spread && cell(say("latest"), late, now, false)));
}
