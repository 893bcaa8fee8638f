/* The tide chart at the bench: levels with their spread, windows of the steps, readings as rings, now as a dotted line.
   It is drawn anew with each view, so a reading moves it at once. */

import { hhmm, instant } from "./clock.js";
import { draw, make } from "./make.js";
import { figure, say } from "./say.js";
import { inFahrenheit, levelName } from "./quantities.js";

const LANE = 150;
const LOW_LANE = 104;
const HEAD = 74;
const FOOT = 40;
const MARGIN = 74;
const HOUR = 3_600_000;

/** A level's value at a moment, between its points: [p5, p50, p95]; null outside. */
export function levelAt(level, when) {
  const at = level.at.map(instant);
  if (!at.length || when < at[0] || when > at.at(-1)) return null;
  const after = at.findIndex((each) => each >= when);
  if (after <= 0) return [level.p5[0], level.p50[0], level.p95[0]];
  const share = (when - at[after - 1]) / (at[after] - at[after - 1] || 1);
  return [level.p5, level.p50, level.p95].map((row) => row[after - 1] + share * (row[after] - row[after - 1]));
}

const heated = (level) => level.unit === "°C" && inFahrenheit();
const value = (level, number) => (heated(level) ? number * 1.8 + 32 : number);
const unit = (level) => (heated(level) ? "°F" : level.unit);
const decimals = (level) => (level.unit === "×" ? 2 : 0);

/** "Temperature 24 °C, 23 to 26". */
function levelWords(level, now) {
  const here = levelAt(level, now);
  if (!here) return null;
  const [low, mid, high] = here.map((each) => figure(value(level, each), decimals(level)));
  return { name: levelName(level.name), mid: `${mid} ${unit(level)}`, spread: say("{low} to {high}", { low, high }) };
}

function span(view, whole, now) {
  const moments = view.levels.flatMap((level) => [instant(level.at[0]), instant(level.at.at(-1))]);
  const [first, last] = [Math.min(...moments), Math.max(...moments, now)];
  if (whole) return [first, last];
  return [Math.max(first, now - 1.5 * HOUR), Math.max(Math.min(last, now + 3 * HOUR), Math.max(first, now - 1.5 * HOUR) + HOUR)];
}

function lane(level, index, { x, from, to, wide, tall }, readings) {
  const top = HEAD + index * tall;
  const points = level.at.map((iso, place) => [instant(iso), place]).filter(([when], place, all) =>
    (all[place + 1]?.[0] ?? when) >= from && (all[place - 1]?.[0] ?? when) <= to);
  if (!points.length) return draw("g", {});
  const own = readings.filter(([iso]) => instant(iso) >= from && instant(iso) <= to);
  const all = points.flatMap(([, place]) => [level.p5[place], level.p95[place]]).concat(own.map((each) => each[2]));
  const [least, most] = [Math.min(...all), Math.max(...all)];
  const room = Math.max(most - least, level.unit === "×" ? 0.2 : 4);
  const y = (number) => top + tall - 18 - ((number - least) / room) * (tall - 46);
  const line = (row) => points.map(([when, place], at) => `${at ? "L" : "M"}${x(when).toFixed(1)} ${y(row[place]).toFixed(1)}`).join("");
  const back = [...points].reverse().map(([when, place]) => `L${x(when).toFixed(1)} ${y(level.p5[place]).toFixed(1)}`).join("");
  return draw("g", { class: `level level-${LOOKS[level.name] ?? index % 3}` },
    draw("path", { class: "lv-floor", d: `M${MARGIN} ${top + tall - 8}H${wide}` }),
    draw("g", { "clip-path": "url(#td-inside)" },
      draw("path", { class: "lv-band", d: `${line(level.p95)}${back}Z` }),
      draw("path", { class: "lv-median", d: line(level.p50) })),
    [least, most].map((number, at) => draw("text", { x: MARGIN - 8, y: y(number) + (at ? 12 : 2), "text-anchor": "end" }, figure(value(level, number), decimals(level)))),
    draw("text", { class: "lv-name", x: MARGIN + 4, y: top + 16 }, `${levelName(level.name)}, ${unit(level)}`),
    own.map(([iso, , number]) => draw("circle", { class: "lv-reading", cx: x(instant(iso)), cy: y(number), r: 8 })));
}

/** Levels that have something between two moments. */
const within = (levels, from, to) => levels.filter((level) => level.at.some((iso) => instant(iso) >= from && instant(iso) <= to));

/** Line and pattern of a level, the same wherever it is drawn. */
const LOOKS = { temperature: 0, rise: 1, softness: 2, surface: 3 };

/** The drawing, as wide as it is given. */
export function tideDrawing(view, wide, whole, now, tall = LANE) {
  const [from, to] = span(view, whole, now);
  const levels = within(view.levels, from, to);
  const high = HEAD + levels.length * tall + FOOT;
  const x = (when) => MARGIN + ((when - from) / (to - from || 1)) * (wide - MARGIN - 6);
  const inside = (when) => Math.min(Math.max(x(when), MARGIN), wide);
  const hours = Math.max(1, Math.ceil((to - from) / HOUR / Math.max(2, Math.floor((wide - MARGIN) / 110))));
  const ticks = [];
  const first = new Date(from).setMinutes(60, 0, 0);
  for (let when = first; when < to; when += HOUR) {
    const told = new Date(when).getHours() % hours === 0;
    ticks.push(draw("path", { class: told ? "td-hour" : "td-hour faint", d: `M${x(when)} ${HEAD - 6}V${high - FOOT}` }));
    if (told && x(when) < wide - 34 && x(when) > MARGIN + 30) ticks.push(draw("text", { x: x(when), y: high - 12, "text-anchor": "middle" }, hhmm(when)));
  }
  let free = -Infinity; // numbers that would stand on each other are left out, but never that of the step now
  const windows = view.steps.filter((step) => step.state !== "done" && instant(step.ends.latest) >= from && instant(step.ends.earliest) <= to).map((step) => {
    const [low, likely, late] = [step.ends.earliest, step.ends.likely, step.ends.latest].map((iso) => inside(instant(iso)));
    const isNow = step.state === "now";
    const numbered = isNow || (late - low > 30 && likely > free);
    if (numbered) free = likely + 26;
    return draw("g", { class: isNow ? "td-step here" : "td-step" },
      draw("path", { class: "td-window", d: `M${low} 34H${Math.max(late, low + 4)}V60H${low}Z` }),
      draw("path", { class: "td-likely", d: `M${likely} 28V66` }),
      numbered ? draw("text", { x: likely, y: 24, "text-anchor": "middle" }, String(step.index + 1)) : null);
  });
  const told = levels.map((level) => levelWords(level, now)).filter(Boolean).map((each) => `${each.name} ${each.mid}, ${each.spread}`);
  return draw("svg", { class: "tide", viewBox: `0 0 ${wide} ${high}`, width: wide, height: high, role: "img",
    "aria-label": [say("Tide chart from {from} to {to}", { from: hhmm(from), to: hhmm(to) }), ...told].join(". ") },
    draw("defs", {},
      draw("clipPath", { id: "td-inside" }, draw("rect", { x: MARGIN, y: 0, width: wide - MARGIN, height: high })),
      draw("pattern", { id: "td-up", width: 8, height: 8, patternUnits: "userSpaceOnUse" }, draw("path", { class: "pt-0", d: "M0 8 8 0" })),
      draw("pattern", { id: "td-dots", width: 7, height: 7, patternUnits: "userSpaceOnUse" }, draw("circle", { class: "pt-1", cx: 3, cy: 3, r: 1.5 })),
      draw("pattern", { id: "td-down", width: 8, height: 8, patternUnits: "userSpaceOnUse" }, draw("path", { class: "pt-2", d: "M0 0 8 8" }))),
    ticks,
    draw("path", { class: "td-quay", d: `M${MARGIN} 60H${wide}` }),
    windows,
    levels.map((level, index) => lane(level, index, { x, from, to, wide, tall }, view.readings.filter(([, name]) => name === level.name))),
    draw("path", { class: "td-now", d: `M${inside(now)} 4V${high - FOOT + 6}` }));
}

/** The chart alone, low enough to stand beside the step. */
export function tideBeside(view, wide, now) {
  if (!view.levels.length || wide < 200) return make("p", {}, say("The levels come with the first forecast."));
  return make("div", { class: "chart" }, tideDrawing(view, wide, false, now, LOW_LANE));
}

/** The chart with its figures of this moment. */
function tidePart(view, wide, whole, now) {
  if (!view.levels.length || wide < 200) return make("p", {}, say("The levels come with the first forecast."));
  return [
    make("dl", { class: "levels" }, view.levels.map((level) => levelWords(level, now)).filter(Boolean).map((each) => make("div", {},
      make("dt", {}, each.name), make("dd", {}, make("span", { class: "digits" }, each.mid), " ", make("span", {}, each.spread))))),
    make("div", { class: "chart" }, tideDrawing(view, wide, whole, now)),
  ];
}

/** The pane of its own. */
export function tidePane(view, wide, whole, deeds, now) {
  const ready = view.ready;
  return [
    make("p", { class: "eyebrow" }, say("What is foreseen")),
    make("h1", { id: "title" }, say("Tide")),
    ready && make("p", { class: "ready" }, say("Ready"), " ", make("span", { class: "digits" }, hhmm(instant(ready.likely))), " ",
      make("span", { "data-until": instant(ready.likely) }), " ",
      make("span", {}, say("{low} to {high}", { low: hhmm(instant(ready.earliest)), high: hhmm(instant(ready.latest)) }))),
    tidePart(view, wide, whole, now),
    make("div", { class: "asks" },
      make("button", { type: "button", class: "deed", id: "whole", "aria-pressed": whole ? "true" : "false", onclick: () => deeds.whole(!whole) }, say("Whole bake")),
      make("button", { type: "button", class: "deed", id: "ready-by", onclick: () => deeds.readyBy() }, say("Another ready-by time"))),
  ];
}
